import { describe, expect, it } from 'vitest';
import { at, derive, known, restingOn, sameKnown, unknown, whyNot } from './known.ts';
import { si } from './si.ts';

const missing = (path: string) => unknown({ reason: 'missing', paths: [path] });
const pending = unknown({ reason: 'pending', job: 'j' });

describe('known values', () => {
  it('a missing spec value names its path', () => {
    expect(at('tube.wall', undefined)).toEqual(missing('tube.wall'));
    expect(at('tube.wall', 0)).toEqual(known(0));
  });

  it('missing paths are merged once each and come before any other reason', () => {
    expect(whyNot({ a: pending, b: missing('x'), c: missing('y'), d: missing('x') })).toEqual({
      reason: 'missing',
      paths: ['x', 'y'],
    });
    expect(whyNot({ a: known(1), b: pending })).toEqual({ reason: 'pending', job: 'j' });
    expect(whyNot({ a: known(undefined) })).toBeNull();
  });

  it('derive computes only when every input is known, and hands a made unknown on', () => {
    expect(derive({ a: known(2), b: known(3) }, (v) => v.a * v.b)).toEqual(known(6));
    expect(derive({ a: known(2), b: pending }, () => 1)).toEqual(pending);
    expect(derive({ a: known(2) }, () => pending)).toEqual(pending);
    expect(derive({ a: known(2) }, (v) => known(v.a))).toEqual(known(2));
  });

  it('same value or same reason is the same', () => {
    expect(sameKnown(known(1), known(1))).toBe(true);
    expect(sameKnown(known(Number.NaN), known(Number.NaN))).toBe(true);
    expect(sameKnown(known(1), known(2))).toBe(false);
    expect(sameKnown(missing('a'), missing('a'))).toBe(true);
    expect(sameKnown(missing('a'), missing('b'))).toBe(false);
    expect(sameKnown(known(1), pending)).toBe(false);
  });

  it('a branded number is the plain number', () => {
    expect(si('length', 0.04)).toBe(0.04);
  });
});

describe('grounds', () => {
  const ground = (name: string) => ({ path: `materials.${name}`, name, source: 's', reason: 'r' });
  const resting = (value: number, ...names: string[]) => restingOn(known(value), names.map(ground));

  it('are handed on by whatever is computed from the value, each once', () => {
    const made = derive({ a: resting(1, 'x', 'y'), b: resting(2, 'y'), c: known(3) }, (v) => v.a + v.b + v.c);
    expect(made).toEqual({ known: true, value: 6, grounds: [ground('x'), ground('y')] });
    expect(derive({ a: resting(1, 'x') }, () => resting(2, 'y'))).toEqual(resting(2, 'y', 'x'));
    expect(derive({ a: resting(1, 'x') }, () => pending)).toEqual(pending);
    expect(derive({ a: known(1) }, (v) => v.a)).toEqual({ known: true, value: 1 });
  });

  it('count when two facts are compared', () => {
    expect(sameKnown(resting(1, 'x'), resting(1, 'x'))).toBe(true);
    expect(sameKnown(resting(1, 'x'), known(1))).toBe(false);
    expect(sameKnown(resting(1, 'x'), resting(1, 'y'))).toBe(false);
  });
});
