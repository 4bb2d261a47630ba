import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Known } from '../units/known.ts';
import type { Formula, Param } from './formula.ts';
import { formulas } from './formulas.ts';
import { signed, trendless, trends } from './trends.fixture.ts';

/** Laws every formula must keep, over the whole of its ranges: drawn by fast-check from a fixed seed. */
const SEED = 71;
const RUNS = 200;
/** Rounding allowed where two answers should be in order. */
const ROUNDING = 1e-11;

type Range = readonly [number, number];

/** A value of a range: its ends, its least magnitudes, evenly or by magnitude in between. */
function within([low, high]: Range): fc.Arbitrary<number> {
  const share = fc.integer({ min: 0, max: 1e6 }).map((x) => x / 1e6);
  const even = share.map((x) => low + (high - low) * x);
  const floor = low > 0 ? low : high * 1e-9;
  const byMagnitude = share.map((x) => Math.min(high, Math.max(low, floor * (high / floor) ** x)));
  return fc.oneof(
    { weight: 1, arbitrary: fc.constantFrom(low, high) },
    { weight: 4, arbitrary: even },
    {
      weight: high > 0 ? 4 : 0,
      arbitrary: high > 0 ? byMagnitude : even,
    },
  );
}

/** As `within`, a count mostly whole. */
function valueFor({ quantity, range }: Param): fc.Arbitrary<number> {
  const any = within(range);
  return quantity === 'count'
    ? fc.oneof({ weight: 5, arbitrary: any.map(Math.round) }, { weight: 1, arbitrary: any })
    : any;
}

const inputsOf = (formula: Formula): fc.Arbitrary<Record<string, number>> =>
  fc.record(Object.fromEntries(Object.entries(formula.inputs).map(([key, param]) => [key, valueFor(param)])));

/** Calls a formula with anything: what a caller without types could hand it. */
const askedWith = (formula: Formula, inputs: unknown): Known<number> =>
  Reflect.apply(formula.evaluate, formula, [inputs]);

/** The neighbouring number above, or below. */
function neighbour(x: number, up: boolean): number {
  const bits = new DataView(new ArrayBuffer(8));
  if (x === 0) return up ? Number.MIN_VALUE : -Number.MIN_VALUE;
  bits.setFloat64(0, x);
  bits.setBigInt64(0, bits.getBigInt64(0) + (up === x > 0 ? 1n : -1n));
  return bits.getFloat64(0);
}

const settings = { seed: SEED, numRuns: RUNS };

describe.each(formulas.map((formula) => [formula.id, formula] as const))('%s', (id, formula) => {
  const keys = Object.keys(formula.inputs);

  it('is finite or says why not, over its whole ranges, and is never negative unless that means something', () => {
    let [answers, negative] = [0, 0];
    fc.assert(
      fc.property(inputsOf(formula), (inputs) => {
        const got = formula.evaluate(inputs);
        if (!got.known) {
          expect(['inconsistent', 'outOfValidity']).toContain(got.why.reason);
          expect(JSON.stringify(got.why)).not.toMatch(/finite|NaN|undefined/);
          return;
        }
        answers += 1;
        if (got.value < 0) negative += 1;
        expect(Number.isFinite(got.value)).toBe(true);
        if (signed[id] === undefined) expect(got.value).toBeGreaterThanOrEqual(0);
      }),
      settings,
    );
    // Conditions between inputs may refuse many draws, but a formula that refuses nearly all has wrong ranges.
    expect(answers).toBeGreaterThan(RUNS / 10);
    if (signed[id] !== undefined) expect(negative, 'never negative: take it off the list').toBeGreaterThan(0);
  });

  it.each(keys)('is outside validity one number below and above the range of %s, far off, and for no number', (key) => {
    const [low, high] = formula.inputs[key]?.range ?? [Number.NaN, Number.NaN];
    const beyond = [
      neighbour(low, false),
      neighbour(high, true),
      Number.NaN,
      -1e300,
      1e300,
      Number.NEGATIVE_INFINITY,
      Number.POSITIVE_INFINITY,
    ];
    const others = fc
      .anything({ withBigInt: true, withDate: true, withNullPrototype: true })
      .filter((x) => typeof x !== 'number');
    const bad = fc.oneof(fc.constantFrom<unknown>(...beyond, undefined, '1', true, [1], null, 1n), others);
    fc.assert(
      fc.property(inputsOf(formula), bad, (inputs, value) => {
        expect(askedWith(formula, { ...inputs, [key]: value })).toMatchObject({
          known: false,
          why: { reason: 'outOfValidity', input: `${id}: ${key}`, range: [low, high] },
        });
      }),
      {
        ...settings,
        numRuns: 40,
        examples: beyond.map((value): [Record<string, number>, unknown] => [formula.examples[0].inputs, value]),
      },
    );
  });

  it('is unknown, never a throw, for inputs that are no record', () => {
    fc.assert(
      fc.property(fc.anything(), (inputs) => {
        // An empty list has a length, and one formula wants nothing else.
        fc.pre(keys.some((key) => typeof Object(inputs)[key] !== 'number'));
        expect(askedWith(formula, inputs).known).toBe(false);
      }),
      { ...settings, numRuns: 40, examples: [[undefined], [null], [0], [true], [{}]] },
    );
  });
});

const table = Object.entries(trends).flatMap(([id, { rising = [], falling = [], because }]) => [
  ...rising.map((key) => ({ id, key, way: 'rises', because })),
  ...falling.map((key) => ({ id, key, way: 'falls', because })),
]);

describe('trends', () => {
  it.each(table)('$id $way with $key: $because', ({ id, key, way }) => {
    const formula = formulas.find((one) => one.id === id);
    const param = formula?.inputs[key];
    if (!formula || !param) throw new Error(`no input ${key} of ${id}`);
    const sign = way === 'rises' ? 1 : -1;
    // Where conditions between inputs refuse most draws, the worked examples still leave something to compare.
    const anExample = fc.constantFrom<Record<string, number>>(...formula.examples.map((example) => example.inputs));
    let moved = 0;
    fc.assert(
      fc.property(fc.oneof(inputsOf(formula), anExample), valueFor(param), valueFor(param), (inputs, one, other) => {
        const at = (value: number) => formula.evaluate({ ...inputs, [key]: value });
        const [less, more] = [at(Math.min(one, other)), at(Math.max(one, other))];
        if (!less.known || !more.known) return;
        const step = sign * (more.value - less.value);
        const slack = ROUNDING * Math.max(Math.abs(less.value), Math.abs(more.value));
        expect(step).toBeGreaterThanOrEqual(-slack);
        if (step > slack) moved += 1;
      }),
      settings,
    );
    expect(moved, 'never moves').toBeGreaterThan(RUNS / 40);
  });

  it('are stated for every formula, or it is said why there is none', () => {
    const ids = formulas.map(({ id }) => id);
    expect([...Object.keys(trends), ...Object.keys(trendless)].sort()).toEqual(ids);
    expect(Object.keys(signed).filter((id) => !ids.includes(id))).toEqual([]);
    expect(table.length).toBeGreaterThanOrEqual(60);
  });
});

describe('these laws can fail', () => {
  it('neighbouring numbers are next to each other', () => {
    for (const x of [1, -1, 0.1, 1e300, 0, Number.MIN_VALUE]) {
      expect(neighbour(x, true)).toBeGreaterThan(x);
      expect(neighbour(x, false)).toBeLessThan(x);
      expect(neighbour(neighbour(x, true), false)).toBe(x);
    }
    expect(neighbour(1, true) - 1).toBe(Number.EPSILON);
  });
});
