import { expect } from 'vitest';
import type { Known } from '../../shared/units/known.ts';

/** The value of a known result; fails the test with the reason when it is unknown. */
export function knownValue<T>(result: Known<T>): T {
  if (!result.known) throw new Error(`expected a value, got unknown: ${JSON.stringify(result.why)}`);
  return result.value;
}

/** Checks `got` against a published figure within a relative tolerance. */
export function expectNear(got: number, published: number, relative: number): void {
  const off = Math.abs(got - published) / Math.abs(published);
  expect(off, `got ${got}, published ${published}, off by ${off}`).toBeLessThanOrEqual(relative);
}
