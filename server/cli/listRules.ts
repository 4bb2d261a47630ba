import { parseArgs } from 'node:util';
import type { Rule } from '../../shared/rules/define.ts';
import { RULE_SET, rules } from '../../shared/rules/registry.ts';
import { sourceLine } from '../../shared/trade/source.ts';
import type { Console } from './console.ts';

/** Lists every rule with its limit and source. */
export async function listRules(args: readonly string[], out: Console): Promise<number> {
  let json: boolean;
  try {
    json = parseArgs({ args: [...args], options: { json: { type: 'boolean' } } }).values.json ?? false;
  } catch (error) {
    out.error(`rules: ${error instanceof Error ? error.message : String(error)}`);
    return 1;
  }
  if (json) out.line(JSON.stringify({ ruleSet: RULE_SET, rules: rules.map(metaOf) }, null, 2));
  else for (const rule of rules) out.line(ruleLines(rule));
  return 0;
}

/** Everything of a rule that is data; what it computes stays behind. */
function metaOf(rule: Rule): object {
  return Object.fromEntries(Object.entries(rule).filter(([, value]) => typeof value !== 'function'));
}

function ruleLines({ id, gate, severity, title, limit, source }: Rule): string {
  const advice = severity === 'advise' ? ', advice' : '';
  return `${id}  (${gate}${advice})\n  ${title}\n  limit: ${limit}\n  source: ${sourceLine(source)}`;
}
