import { type UnknownValue, unknown } from '../units/known.ts';
import type { QuantityKey } from '../units/quantities.ts';

/** Closed validity range of one input, SI, with its quantity; a unit in words where the table of quantities has no row. */
export type Limit = readonly [quantity: QuantityKey | 'J' | 'm/N' | 'm4' | 'kg/mol', low: number, high: number];

/** Reason to refuse the first input of `id` outside its limit (NaN is outside), or null: for functions with several results. */
export function outsideLimits<K extends string>(
  id: string,
  inputs: Readonly<Record<K, number>>,
  limits: Readonly<Record<K, Limit>>,
): UnknownValue | null {
  for (const key in limits) {
    const [unit, low, high] = limits[key];
    const value = inputs[key];
    if (!(value >= low && value <= high))
      return unknown({ reason: 'outOfValidity', input: `${id}: ${key}`, value, range: [low, high], unit });
  }
  return null;
}

/** Refusal of inputs that contradict each other: says what was expected and what came. */
export function contradiction(detail: string): UnknownValue {
  return unknown({ reason: 'inconsistent', detail, paths: [] });
}
