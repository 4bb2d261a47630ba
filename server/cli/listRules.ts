import { parseArgs } from 'node:util';
import { RULE_SET, rules } from '../../shared/rules/registry.ts';
import { trustWords } from '../../shared/trade/source.ts';
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
  if (json) {
    const meta = rules.map(
      ({
        id,
        gate,
        title,
        severity,
        branches,
        cost,
        quantity,
        limit,
        source,
        validity,
        hazard,
        remedy,
        messages,
        since,
      }) => ({
        ...{
          id,
          gate,
          title,
          severity,
          branches,
          cost,
          quantity,
          limit,
          source,
          validity,
          hazard,
          remedy,
          messages,
          since,
        },
      }),
    );
    out.line(JSON.stringify({ ruleSet: RULE_SET, rules: meta }, null, 2));
    return 0;
  }
  for (const rule of rules) {
    const { document, clause, trust } = rule.source;
    out.line(
      `${rule.id}  (${rule.gate}${rule.severity === 'advise' ? ', advice' : ''})\n  ${rule.title}\n  limit: ${rule.limit}\n  source: ${document}${clause ? `, ${clause}` : ''} (${trustWords[trust]})`,
    );
  }
  return 0;
}
