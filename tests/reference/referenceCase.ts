import { expect } from 'vitest';
import { expectNear } from './nearness.ts';

/** A number, word or flag of a worked case, or a row of numbers. */
export type CaseValue = number | string | boolean | readonly number[];

/** A worked case copied from a reference page, in the units it was written in. */
export interface ReferenceCase {
  readonly id: string;
  readonly what: string;
  readonly inputs: Readonly<Record<string, CaseValue>>;
  readonly expected: Readonly<Record<string, CaseValue>>;
  /** Relative. */
  readonly tolerance: number;
  readonly source: string;
}

/** Computes what a case expects, under the same names. */
export type Solver = (of: ReferenceCase) => Readonly<Record<string, CaseValue>>;

/** A number among the inputs; fails the test when it is not there. */
export function numberOf({ id, inputs }: ReferenceCase, key: string): number {
  const value = inputs[key];
  if (typeof value !== 'number') throw new Error(`case ${id}: expected a number ${key}, got ${String(value)}`);
  return value;
}

/** A word among the inputs. */
export function wordOf({ id, inputs }: ReferenceCase, key: string): string {
  const value = inputs[key];
  if (typeof value !== 'string') throw new Error(`case ${id}: expected a word ${key}, got ${String(value)}`);
  return value;
}

/** A row of numbers among the inputs. */
export function rowOf({ id, inputs }: ReferenceCase, key: string): readonly number[] {
  const value = inputs[key];
  if (typeof value !== 'object') throw new Error(`case ${id}: expected numbers ${key}, got ${String(value)}`);
  return value;
}

/** Checks each expected value but the `skipped` names; a name the solver leaves out fails. */
export function expectCase(of: ReferenceCase, solve: Solver, skipped: readonly string[]): void {
  const got = solve(of);
  for (const [key, expected] of Object.entries(of.expected)) {
    if (skipped.includes(key)) continue;
    expectValue(got[key], expected, of.tolerance);
  }
}

function expectValue(got: CaseValue | undefined, expected: CaseValue, tolerance: number): void {
  if (typeof expected === 'number') {
    if (typeof got !== 'number') throw new Error(`expected ${expected}, got ${String(got)}`);
    // Rounding of the unit conversion is no deviation.
    if (expected === 0) expect(Math.abs(got)).toBeLessThanOrEqual(1e-12);
    else expectNear(got, expected, Math.max(tolerance, 1e-9));
    return;
  }
  if (typeof expected !== 'object') {
    expect(got).toBe(expected);
    return;
  }
  if (typeof got !== 'object') throw new Error(`expected ${expected.join(', ')}, got ${String(got)}`);
  expect(got).toHaveLength(expected.length);
  for (const [i, value] of expected.entries()) expectValue(got[i], value, tolerance);
}
