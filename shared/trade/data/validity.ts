import { type UnknownValue, unknown } from '../../units/known.ts';

/** Closed validity range of one input, SI. `unit` is a quantity key or, where the quantities table has no row yet, the SI unit itself. */
export interface Limit {
  readonly range: readonly [number, number];
  readonly unit: string;
}

/** Validity ranges of a plain function with several results, by input name. */
export type Limits<K extends string> = Readonly<Record<K, Limit>>;

/** The first input outside its range (NaN is outside every range), or null when all are inside. */
export function outsideLimits<K extends string>(
  what: string,
  limits: Limits<K>,
  inputs: Readonly<Record<K, number>>,
): UnknownValue | null {
  for (const key in limits) {
    const value = inputs[key];
    const { range, unit } = limits[key];
    if (!(value >= range[0] && value <= range[1])) {
      return unknown({ reason: 'outOfValidity', input: `${what}: ${key}`, value, range, unit });
    }
  }
  return null;
}

/** Inputs that contradict each other; `detail` says what was expected and what came. */
export function inconsistent(detail: string): UnknownValue {
  return unknown({ reason: 'inconsistent', detail, paths: [] });
}
