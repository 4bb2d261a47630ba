import { describe, expect, it } from 'vitest';
import { knownValue } from '../../../tests/reference/nearness.ts';
import { expectRefusal } from '../../../tests/support/validityTable.ts';
import { criticalPath } from './critical-path.ts';
import { durationDraw } from './duration-draw.ts';
import { betaShape, type Estimate, estimateFault } from './estimate.ts';
import { fallbackStart, simulatedFallbackStart } from './fallback-start.ts';
import { inOrder } from './network.ts';
import { normalProbability, normalQuantile } from './normal.ts';
import { chanceBy, pertFinish } from './pert.ts';
import { pertDeviation } from './pert-deviation.ts';
import { pertMean } from './pert-mean.ts';
import { shareBy, simulatePlan } from './simulation.ts';

const three = (optimistic: number, likely: number, pessimistic: number): Estimate => ({
  optimistic,
  likely,
  pessimistic,
});
const disorder = 'expected 0 <= optimistic <= likely <= pessimistic, got 3, 2 and 1';

describe('plans say what was expected and what came', () => {
  it('network', () => {
    expectRefusal(inOrder([]), 'plan: expected at least one activity, got none');
    expectRefusal(
      inOrder([
        { id: 'cut', after: [] },
        { id: 'weld', after: ['cut'] },
        { id: 'cut', after: [] },
      ]),
      'plan: expected every activity once, got "cut" twice',
    );
    expectRefusal(
      inOrder([{ id: 'weld', after: ['cut'] }]),
      'plan: expected "weld" to wait for known activities, got "cut"',
    );
    expectRefusal(
      inOrder([
        { id: 'cut', after: [] },
        { id: 'tack', after: ['weld'] },
        { id: 'weld', after: ['tack'] },
      ]),
      'plan: expected no circle, got one among tack, weld',
    );
  });

  it('what waits comes after what it waits for', () => {
    const order = knownValue(
      inOrder([
        { id: 'weld', after: ['tack', 'purge'] },
        { id: 'tack', after: ['cut'] },
        { id: 'purge', after: [] },
        { id: 'cut', after: [] },
      ]),
    );
    expect(order.map(({ id }) => id)).toEqual(['purge', 'cut', 'tack', 'weld']);
  });

  it('durations', () => {
    for (const duration of [-1, Number.NaN, Number.POSITIVE_INFINITY])
      expectRefusal(
        criticalPath([{ id: 'cut', duration, after: [] }]),
        `plan: expected a finite duration of at least 0 for "cut", got ${duration}`,
      );
    expect(knownValue(criticalPath([{ id: 'cut', duration: 0, after: [] }])).finish).toBe(0);
  });

  it('estimates', () => {
    expect(estimateFault(three(3, 2, 1))).toBe(disorder);
    expect(estimateFault(three(0, 0, 0))).toBeNull();
    for (const wrong of [three(-1, 2, 3), three(2, 1, 3), three(1, 3, 2), three(1, 2, Number.POSITIVE_INFINITY)])
      expect(estimateFault(wrong)).toContain('expected 0 <= optimistic');
    expectRefusal(betaShape(three(3, 2, 1)), `beta-PERT: ${disorder}`);
    expectRefusal(betaShape(three(4, 4, 4)), 'beta-PERT: expected a spread above 0, got none');
    expectRefusal(durationDraw(three(3, 2, 1), 'triangle'), `duration: ${disorder}`);
    expectRefusal(pertFinish([{ id: 'weld', estimate: three(3, 2, 1), after: [] }]), `plan: "weld": ${disorder}`);
    for (const formula of [pertMean, pertDeviation]) {
      const got = formula.evaluate(three(3, 2, 1));
      expect(got).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
      expect(JSON.stringify(got)).toContain(disorder);
    }
  });

  it('fallback', () => {
    const settings = { random: () => 0.5, runs: 100, spread: 'triangle' as const };
    const cases: readonly (readonly [number, readonly Estimate[], number, string])[] = [
      [Number.NaN, [three(1, 2, 3)], 0.9, 'fallback: expected a finite deadline, got NaN'],
      [60, [three(1, 2, 3)], 0.49, 'fallback: expected a confidence from 0.5 to 0.9999, got 0.49'],
      [60, [three(1, 2, 3)], 0.99991, 'fallback: expected a confidence from 0.5 to 0.9999, got 0.99991'],
      [60, [], 0.9, 'fallback: expected at least one task, got none'],
      [60, [three(1, 2, 3), three(3, 2, 1)], 0.9, `fallback: task 2: ${disorder}`],
    ];
    for (const [deadline, tasks, confidence, words] of cases) {
      expectRefusal(fallbackStart(deadline, tasks, confidence), words);
      expectRefusal(simulatedFallbackStart(deadline, tasks, confidence, settings), words);
    }
    // Both ends of the confidence are allowed; at a half the spread does not count: 60 - (1 + 4 x 2 + 3)/6.
    expect(knownValue(fallbackStart(60, [three(1, 2, 3)], 0.5)).latestStart).toBeCloseTo(58, 12);
    expect(fallbackStart(60, [three(1, 2, 3)], 0.9999).known).toBe(true);
    // Every draw at the middle of an even triangle is its peak: three tasks after each other end at 2 + 4 + 6.
    const chain = [three(1, 2, 3), three(2, 4, 6), three(3, 6, 9)];
    expect(knownValue(simulatedFallbackStart(60, chain, 0.9, settings))).toBeCloseTo(48, 9);
  });

  it('simulation', () => {
    const plan = [{ id: 'weld', estimate: three(1, 2, 3), after: [] }];
    const settings = { random: () => 0.5, runs: 100, spread: 'triangle' as const };
    for (const runs of [99, 100.5, 1_000_001, Number.NaN])
      expectRefusal(
        simulatePlan(plan, { ...settings, runs }),
        `simulation: expected a whole number of runs from 100 to 1000000, got ${runs}`,
      );
    for (const correlation of [-0.1, 1.1, Number.NaN])
      expectRefusal(
        simulatePlan(plan, { ...settings, correlation }),
        `simulation: expected a correlation from 0 to 1, got ${correlation}`,
      );
    for (const correlation of [0, 1]) expect(simulatePlan(plan, { ...settings, correlation }).known).toBe(true);
    expectRefusal(
      simulatePlan([{ id: 'weld', estimate: three(3, 2, 1), after: [] }], settings),
      `duration: ${disorder}`,
    );
    const even = knownValue(simulatePlan(plan, settings));
    expect(even).toMatchObject({ mean: 2, p10: 2, p50: 2, p80: 2, p95: 2 });
    expect(even.finishes).toHaveLength(100);
    expect([1.99, 2, 2.01].map((date) => shareBy(even, date))).toEqual([0, 1, 1]);
  });

  it('chances', () => {
    for (const [date, mean, variance] of [
      [Number.NaN, 5, 1],
      [5, Number.POSITIVE_INFINITY, 1],
      [5, 5, -1],
      [5, 5, Number.NaN],
    ] as const)
      expectRefusal(
        chanceBy(date, { mean, variance }),
        `chance by a date: expected finite numbers and a variance of at least 0, got ${date}, ${mean}, ${variance}`,
      );
  });
});

describe('a simulated plan', () => {
  /** Uniform numbers handed out in turn. */
  const inTurn = (numbers: readonly number[]) => {
    let i = 0;
    return () => numbers[i++ % numbers.length] ?? Number.NaN;
  };

  // Triangle 0, 2, 4: a uniform 1/8 is at 1, 1/2 at 2, 7/8 at 3. Two branches, then what waits for both.
  it('what waits for two starts when the later one is done', () => {
    const plan = [
      { id: 'tube', estimate: three(0, 2, 4), after: [] },
      { id: 'flange', estimate: three(0, 2, 4), after: [] },
      { id: 'weld', estimate: three(0, 2, 4), after: ['tube', 'flange'] },
    ];
    const ends = knownValue(
      simulatePlan(plan, { random: inTurn([1 / 8, 7 / 8, 1 / 2]), runs: 100, spread: 'triangle' }),
    );
    expect(ends.p50).toBeCloseTo(5, 12);
    expect(ends.mean).toBeCloseTo(5, 12);
  });

  it('sorted ends: percentiles of two values', () => {
    const plan = [{ id: 'weld', estimate: three(0, 2, 4), after: [] }];
    const ends = knownValue(simulatePlan(plan, { random: inTurn([7 / 8, 1 / 8]), runs: 100, spread: 'triangle' }));
    for (const [got, want] of [
      [ends.p10, 1],
      [ends.p50, 2],
      [ends.p80, 3],
      [ends.p95, 3],
      [ends.mean, 2],
    ] as const)
      expect(got).toBeCloseTo(want, 9);
  });

  it('with full correlation a group moves as one, and others do not', () => {
    const estimate = three(0, 2, 4);
    const together = ['a', 'b'].map((id) => ({ id, estimate, after: id === 'b' ? ['a'] : [], group: 'supplier' }));
    // Draws: own number of a, common factor, own number of b. Only the factor counts: 7/8 each, so 3 + 3.
    const random = inTurn([1 / 8, 7 / 8, 1 / 2]);
    const grouped = knownValue(simulatePlan(together, { random, runs: 100, spread: 'triangle', correlation: 1 }));
    expect(grouped.p50).toBeCloseTo(6, 9);
    const apart = together.map(({ group: _group, ...rest }) => rest);
    const alone = knownValue(
      simulatePlan(apart, { random: inTurn([1 / 8, 7 / 8]), runs: 100, spread: 'triangle', correlation: 1 }),
    );
    expect(alone.p50).toBeCloseTo(4, 9);
  });

  // Scores of 1/8 and 7/8 are -z and z; with correlation 0.36 the mix is 0.6 z - 0.8 z = -0.2 z.
  it('correlation mixes the scores by its root', () => {
    const z = normalQuantile(7 / 8);
    const uniform = normalProbability(-0.2 * z);
    const plan = [{ id: 'a', estimate: three(0, 2, 4), after: [], group: 'supplier' }];
    const ends = knownValue(
      simulatePlan(plan, { random: inTurn([1 / 8, 7 / 8]), runs: 100, spread: 'triangle', correlation: 0.36 }),
    );
    // Below the peak of that triangle the inverse is sqrt(8 u).
    expect(ends.p50).toBeCloseTo(Math.sqrt(8 * uniform), 9);
  });

  it('a uniform number of zero is still a duration', () => {
    const plan = [{ id: 'a', estimate: three(1, 2, 4), after: [], group: 'supplier' }];
    const ends = knownValue(simulatePlan(plan, { random: () => 0, runs: 100, spread: 'triangle', correlation: 0.5 }));
    expect(ends.mean).toBeCloseTo(1, 6);
  });
});

describe('the longest way', () => {
  it('starts at nothing and takes the later of two', () => {
    const found = knownValue(
      criticalPath([
        { id: 'long', duration: 5, after: [] },
        { id: 'short', duration: 2, after: [] },
        { id: 'weld', duration: 3, after: ['short', 'long'] },
        { id: 'paint', duration: 1, after: ['short'] },
      ]),
    );
    expect(found.path).toEqual(['long', 'weld']);
    expect(found.dates.find(({ id }) => id === 'short')).toEqual({
      id: 'short',
      earlyStart: 0,
      earlyFinish: 2,
      lateStart: 3,
      lateFinish: 5,
      totalFloat: 3,
      freeFloat: 0,
    });
    expect(found.dates.find(({ id }) => id === 'paint')).toMatchObject({ lateStart: 7, totalFloat: 5, freeFloat: 5 });
  });

  it('of two means the greater counts though the other is less certain', () => {
    const end = knownValue(
      pertFinish([
        { id: 'sure', estimate: three(6, 6, 6), after: [] },
        { id: 'wide', estimate: three(1, 5, 9), after: [] },
        { id: 'sum', estimate: three(1, 1, 1), after: ['wide', 'sure'] },
      ]),
    );
    expect(end).toEqual({ mean: 7, variance: 0, path: ['sure', 'sum'] });
  });
});

describe('normal distribution at its joins', () => {
  it('series and tail meet at three deviations', () => {
    // 50-digit value of Phi(-3).
    expect(normalProbability(-3)).toBeCloseTo(1.3498980316300946e-3, 15);
    expect(normalProbability(-3 - 1e-9) / normalProbability(-3)).toBeCloseTo(1, 7);
    // Far out the tail runs into the smallest numbers there are, then is nothing.
    expect(normalProbability(-38)).toBeGreaterThan(0);
    expect(normalProbability(-38)).toBeLessThan(1e-300);
    for (const far of [-40, -1e6, Number.NEGATIVE_INFINITY]) expect(normalProbability(far)).toBe(0);
  });

  it('quantile of its ends and the middle', () => {
    expect(normalQuantile(1)).toBe(Number.POSITIVE_INFINITY);
    expect(normalQuantile(0.5)).toBeCloseTo(0, 12);
    for (const wrong of [-1e-9, 1 + 1e-9, Number.NaN]) expect(normalQuantile(wrong)).toBeNaN();
    // 97.5 % point of the tables.
    expect(normalQuantile(0.975)).toBeCloseTo(1.959963984540054, 12);
  });
});
