import { type Formula, formulaLine } from '../../shared/trade/formula.ts';
import { findFormula, formulas } from '../../shared/trade/formulas.ts';
import { trustWords } from '../../shared/trade/source.ts';
import { formatSi } from '../../shared/units/format.ts';
import type { Why } from '../../shared/units/known.ts';
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
    const parsed = parseQuantity(param.quantity, rest.join('='));
    if (!parsed.ok) return { ok: false, error: `${name}: ${parsed.error}` };
    inputs[name] = parsed.si;
  }
  for (const name of Object.keys(formula.inputs)) {
    const param = formula.inputs[name];
    if (param && !(name in inputs)) {
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

/** Computes one formula from the command line: `calc purge-time volume=2L flow=8L/min target=50ppm`. */
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
  if (json) {
    const si = quantityRow(formula.output.quantity).units[0].symbol;
    out.line(
      JSON.stringify(
        {
          formula: id,
          inputs: read.inputs,
          ...(result.known ? { value: result.value, unit: si } : { unknown: result.why }),
          source: formula.source,
        },
        null,
        2,
      ),
    );
    return result.known ? 0 : 2;
  }
  if (!result.known) {
    out.error(`calc ${id}: ${whyWords(result.why)}`);
    return 2;
  }
  const { document, clause, trust } = formula.source;
  const inputs = Object.keys(read.inputs).map(
    (k) => `${k} = ${formatSi(formula.inputs[k]?.quantity ?? 'ratio', read.inputs[k] ?? Number.NaN)}`,
  );
  out.line(
    [
      formulaLine(formula, result.value),
      `  with ${inputs.join(', ')}`,
      `  source: ${document}${clause ? `, ${clause}` : ''} (${trustWords[trust]})`,
    ].join('\n'),
  );
  return 0;
}
