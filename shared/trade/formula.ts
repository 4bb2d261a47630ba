import { formatSi } from '../units/format.ts';
import { type Known, known, unknown } from '../units/known.ts';
import { displayUnit, type QuantityKey } from '../units/quantities.ts';
import type { Source } from './source.ts';

/** One input of a formula: quantity (SI unit), closed validity range in SI, and what it is. */
export interface Param {
  readonly quantity: QuantityKey;
  /** Range in which the formula holds, SI. Outside it the answer is "outside validity", never an extrapolation. */
  readonly range: readonly [number, number];
  /** Symbol used in the source and one phrase of meaning. */
  readonly help: string;
  /** Used when the input is left out on the command line. */
  readonly fallback?: number;
}

/** A worked example that a test executes. `expected` is SI; `tolerance` is relative. */
export interface Example<K extends string> {
  readonly inputs: Readonly<Record<K, number>>;
  readonly expected: number;
  readonly tolerance: number;
  readonly source: Source;
}

/** What an author writes down for one formula of the trade. */
export interface FormulaDefinition<K extends string> {
  /** Equals the file name. */
  readonly id: string;
  readonly title: string;
  readonly inputs: Readonly<Record<K, Param>>;
  readonly output: { readonly quantity: QuantityKey; readonly help: string };
  readonly source: Source;
  /** At least one; the first is shown as the help text's example. */
  readonly examples: readonly [Example<K>, ...Example<K>[]];
  /** Plain SI in, plain SI out; only called with every input inside its range. */
  compute(inputs: Readonly<Record<K, number>>): number | Known<number>;
}

/** A formula that checks its inputs before it computes. */
export interface Formula<K extends string = string> extends FormulaDefinition<K> {
  /** Value, or why there is none: outside validity (what is no number at all too), or not a finite number. Never throws. */
  evaluate(inputs: Readonly<Record<K, number>>): Known<number>;
}

/** Makes a formula from its definition. */
export function defineFormula<K extends string>(definition: FormulaDefinition<K>): Formula<K> {
  return { ...definition, evaluate: (inputs) => evaluate(definition, inputs) };
}

function evaluate<K extends string>(f: FormulaDefinition<K>, inputs: Readonly<Record<K, number>>): Known<number> {
  for (const key in f.inputs) {
    const given: unknown = inputs?.[key];
    // Text that looks like a number would pass the comparison and be joined instead of added.
    const value = typeof given === 'number' ? given : Number.NaN;
    const { range, quantity } = f.inputs[key];
    if (!(value >= range[0] && value <= range[1])) {
      return unknown({ reason: 'outOfValidity', input: `${f.id}: ${key}`, value, range, unit: quantity });
    }
  }
  const made = f.compute(inputs);
  const result = typeof made === 'number' ? known(made) : made;
  if (result.known && !Number.isFinite(result.value)) {
    return unknown({
      reason: 'inconsistent',
      detail: `${f.id}: expected a finite result, got ${result.value}`,
      paths: [],
    });
  }
  return result;
}

/** One line a person can read: `hoop-stress: 3.5 MPa`. */
export function formulaLine(f: Pick<Formula, 'id' | 'output'>, value: number): string {
  return `${f.id} = ${formatSi(f.output.quantity, value, displayUnit(f.output.quantity))}`;
}
