import { type Formula, formulaLine } from '../../shared/trade/formula.ts';
import { findFormula, formulas } from '../../shared/trade/formulas.ts';
import { sourceLine } from '../../shared/trade/source.ts';
import { formatSi } from '../../shared/units/format.ts';
import type { Known, Why } from '../../shared/units/known.ts';
import { parseQuantity } from '../../shared/units/parse.ts';
import { quantityRow } from '../../shared/units/quantities.ts';
import type { Console } from './console.ts';

function listing(): string {
  return formulas
    .map(
      (f) =>
        `${f.id}\n  ${f.title}\n  ${Object.keys(f.inputs)
          .map((k) => `${k}=<${quantityRow(f.inputs[k]?.quantity ?? 'ratio').name}>`)
          .join(' ')}`,
    )
    .join('\n');
}

type Read =
  | { readonly ok: true; readonly inputs: Record<string, number> }
  | { readonly ok: false; readonly error: string };

/** Reads `name=value` words against the formula's inputs. */
function readInputs(formula: Formula, words: readonly string[]): Read {
  const inputs: Record<string, number> = {};
  for (const word of words) {
    const [name = '', ...rest] = word.split('=');
    const param = Object.hasOwn(formula.inputs, name) ? formula.inputs[name] : undefined;
    if (!param || rest.length === 0)
      return {
        ok: false,
        error: `expected name=value with one of ${Object.keys(formula.inputs).join(', ')}, got "${word}"`,
      };
    if (Object.hasOwn(inputs, name)) return { ok: false, error: `${name}: expected one value, got two` };
    const parsed = parseQuantity(param.quantity, rest.join('='));
    if (!parsed.ok) return { ok: false, error: `${name}: ${parsed.error}` };
    inputs[name] = parsed.si;
  }
  for (const name of Object.keys(formula.inputs)) {
    const param = formula.inputs[name];
    if (param && !Object.hasOwn(inputs, name)) {
      if (param.fallback === undefined)
        return { ok: false, error: `expected ${name}=<${quantityRow(param.quantity).name}>: ${param.help}` };
      inputs[name] = param.fallback;
    }
  }
  return { ok: true, inputs };
}

function whyWords(why: Why): string {
  if (why.reason === 'outOfValidity')
    return `outside validity: ${why.input} is ${why.value}, the formula holds from ${why.range[0]} to ${why.range[1]} (SI)`;
  return 'detail' in why ? why.detail : why.reason;
}

/** The result as one JSON object, SI throughout. */
function asJson(formula: Formula, inputs: Readonly<Record<string, number>>, result: Known<number>): string {
  const unit = quantityRow(formula.output.quantity).units[0].symbol;
  const outcome = result.known ? { value: result.value, unit } : { unknown: result.why };
  return JSON.stringify({ formula: formula.id, inputs, ...outcome, source: formula.source }, null, 2);
}

function asText(formula: Formula, inputs: Readonly<Record<string, number>>, value: number): string {
  const given = Object.entries(formula.inputs).map(
    ([name, { quantity }]) => `${name} = ${formatSi(quantity, inputs[name] ?? Number.NaN)}`,
  );
  return [formulaLine(formula, value), `  with ${given.join(', ')}`, `  source: ${sourceLine(formula.source)}`].join(
    '\n',
  );
}

/** Computes one formula from the command line: `calc purge-time-plug-flow volume=2L flow=8L/min`. */
export async function calc(args: readonly string[], out: Console): Promise<number> {
  const json = args.includes('--json');
  const [id, ...words] = args.filter((a) => a !== '--json');
  if (id === undefined) {
    out.line(listing());
    return 0;
  }
  const formula = findFormula(id);
  if (!formula) {
    out.error(`calc: expected one of ${formulas.map((f) => f.id).join(', ')}, got "${id}"`);
    return 1;
  }
  const read = readInputs(formula, words);
  if (!read.ok) {
    out.error(`calc ${id}: ${read.error}`);
    return 1;
  }
  const result = formula.evaluate(read.inputs);
  if (json) out.line(asJson(formula, read.inputs, result));
  else if (result.known) out.line(asText(formula, read.inputs, result.value));
  else out.error(`calc ${id}: ${whyWords(result.why)}`);
  return result.known ? 0 : 2;
}
