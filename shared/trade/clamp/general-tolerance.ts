import { type Known, known, unknown } from '../../units/known.ts';
import type { Step } from '../data/general-tolerances.ts';

/**
 * Value of a stepped tolerance table at a nominal `length` (m): ISO 2768 and ISO 13920 tables of data/general-tolerances, whose sources
 * stand there. Below `from` (m), past the last row or where the standard gives none: outside validity.
 */
export function generalTolerance(table: readonly Step[], length: number, from = 0.5e-3): Known<number> {
  const last = table.at(-1)?.[0] ?? Number.NaN;
  const value = length >= from ? table.find(([upTo]) => length <= upTo * (1 + 1e-12))?.[1] : undefined;
  if (typeof value === 'number') return known(value);
  return unknown({
    reason: 'outOfValidity',
    input: 'general-tolerance: length',
    value: length,
    range: [from, last],
    unit: 'length',
  });
}
