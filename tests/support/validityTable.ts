import { describe, expect, it } from 'vitest';
import type { Known } from '../../shared/units/known.ts';

/** Quantity and closed range of one input, SI, as its documentation says. */
type Row = readonly [unit: string, low: number, high: number];

/** A function with checked inputs: what it calls itself in a refusal, a call of it, inputs that are good, where each one is valid. */
export interface Checked<K extends string> {
  readonly name: string;
  readonly call: (inputs: Readonly<Record<K, number>>) => Known<unknown>;
  readonly good: Readonly<Record<NoInfer<K>, number>>;
  readonly rows: Readonly<Record<K, Row>>;
}

/** Both ends of each range are inside; a step beyond, NaN and the infinities are refused with input, value, range and unit. */
export function validityTable<K extends string>({ name, call, good, rows }: Checked<K>): void {
  describe(`${name}: where it holds`, () => {
    it('answers for good inputs', () => expect(call(good)).toMatchObject({ known: true }));
    for (const key in rows) {
      const [unit, low, high] = rows[key];
      const input = `${name}: ${key}`;
      const at = (value: number) => call({ ...good, [key]: value });
      it(`${key} from ${low} to ${high}, ${unit}`, () => {
        const step = 1e-6 * Math.max(Math.abs(low), Math.abs(high));
        for (const value of [low, high]) {
          const got = at(value);
          if (!got.known) expect(got.why, `${key} at ${value}`).not.toMatchObject({ reason: 'outOfValidity', input });
        }
        for (const value of [low - step, high + step, Number.NaN, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY])
          expect(at(value)).toEqual({
            known: false,
            why: { reason: 'outOfValidity', input, value, range: [low, high], unit },
          });
      });
    }
  });
}

/** Checks that a call is refused as contradictory, with the whole sentence: what was expected and what came. */
export function expectRefusal(got: Known<unknown>, detail: string): void {
  expect(got).toEqual({ known: false, why: { reason: 'inconsistent', detail, paths: [] } });
}
