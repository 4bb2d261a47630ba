import { describe, expect, it } from 'vitest';
import { type Judgement, judge, judgementOf, marginOf } from './outcome.ts';

const max = (value: number) => ({ kind: 'max', value }) as const;
const min = (value: number) => ({ kind: 'min', value }) as const;
const range = (low: number, high: number) => ({ kind: 'range', low, high }) as const;

describe('marginOf', () => {
  it.each([
    [0.4, max(0.5), 0.1],
    [0.6, max(0.5), -0.1],
    [0.6, min(0.5), 0.1],
    [0.4, min(0.5), -0.1],
    [2, range(1, 4), 1],
    [3.5, range(1, 4), 0.5],
    [0.5, range(1, 4), -0.5],
    [5, range(1, 4), -1],
  ])('%f against %o is %f', (measured, limit, margin) => {
    expect(marginOf(measured, limit)).toBeCloseTo(margin, 12);
  });
});

describe('judge', () => {
  const both: Judgement = { limit: min(1), advisory: min(1.5), guard: 0.1 };

  it.each([
    ['far inside both', 2, { status: 'pass', close: false, limit: min(1), margin: 1 }],
    ['a little less than a guard inside the advisory limit', 1.59, { status: 'pass', close: true, limit: min(1.5) }],
    ['just inside the advisory limit: spare to that one', 1.509, { status: 'pass', close: true, limit: min(1.5) }],
    ['at the advisory limit', 1.5, { status: 'pass', close: true, limit: min(1.5), margin: 0 }],
    ['outside the advisory limit', 1.49, { status: 'caution', limit: min(1.5) }],
    ['at the limit', 1, { status: 'caution', limit: min(1.5), margin: -0.5 }],
    ['outside the limit', 0.99, { status: 'fail', limit: min(1) }],
  ])('%s', (_, measured, expected) => {
    expect(judge(measured, both)).toMatchObject({ measured, ...expected });
  });

  it('says the margin to the limit it names', () => {
    for (const measured of [0.5, 1, 1.2, 1.5, 1.51, 3]) {
      const outcome = judge(measured, both);
      if (!('limit' in outcome)) throw new Error('expected a limit');
      expect(outcome.margin).toBe(marginOf(measured, outcome.limit));
    }
  });

  it('is close within 3 % of the limit when no guard is stated, of a range within 3 % of its width', () => {
    const close = (measured: number, limit: Judgement['limit']) => judge(measured, { limit });
    expect(close(0.971, max(1))).toMatchObject({ status: 'pass', close: true });
    expect(close(0.969, max(1))).toMatchObject({ status: 'pass', close: false });
    expect(close(-0.971, min(-1))).toMatchObject({ close: true });
    expect(close(-0.969, min(-1))).toMatchObject({ close: false });
    expect(close(10.05, range(10, 12))).toMatchObject({ close: true });
    expect(close(10.07, range(10, 12))).toMatchObject({ close: false });
  });

  it.each([Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])('%f is unknown, never a pass', (value) => {
    expect(judge(value, { limit: max(1) })).toEqual({
      status: 'unknown',
      why: { reason: 'inconsistent', detail: `expected a finite value, got ${value}`, paths: [] },
    });
  });

  it('carries message, data, witness and note, and remembers how it judged', () => {
    const how: Judgement = {
      ...both,
      message: 'm',
      data: { x: 1 },
      witness: { at: [0, 0, 0] },
      limitNote: 'note',
    };
    const outcome = judge(1.2, how);
    expect(outcome).toMatchObject({ message: 'm', data: { x: 1 }, witness: { at: [0, 0, 0] }, limitNote: 'note' });
    expect(outcome).not.toHaveProperty('guard');
    expect(judgementOf(outcome)).toBe(how);
    expect(judgementOf({ ...outcome })).toBeNull();
  });
});
