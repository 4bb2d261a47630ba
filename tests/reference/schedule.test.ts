import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../shared/geometry/random.ts';
import { criticalPath, type TimedActivity } from '../../shared/trade/schedule/critical-path.ts';
import { durationDraw } from '../../shared/trade/schedule/duration-draw.ts';
import { betaShape, type Estimate, estimateMean } from '../../shared/trade/schedule/estimate.ts';
import { fallbackStart, simulatedFallbackStart } from '../../shared/trade/schedule/fallback-start.ts';
import { normalProbability, normalQuantile } from '../../shared/trade/schedule/normal.ts';
import { chanceBy, type EstimatedActivity, pertFinish } from '../../shared/trade/schedule/pert.ts';
import { shareBy, simulatePlan } from '../../shared/trade/schedule/simulation.ts';
import { expectNear, knownValue } from './nearness.ts';

const three = (optimistic: number, likely: number, pessimistic: number): Estimate => ({
  optimistic,
  likely,
  pessimistic,
});

/** Activities of a plan drawn with arcs between numbered events: an arc waits for the arcs that end where it starts. */
function arcs(text: string): TimedActivity[] {
  const list = text.split(' ').map((arc) => {
    const [name = '', duration] = arc.split(':');
    const [from, to] = name.split('-');
    return { id: name, from, to, duration: Number(duration) };
  });
  return list.map(({ id, from, duration }) => ({
    id,
    duration,
    after: list.filter((other) => other.to === from).map((other) => other.id),
  }));
}

describe('critical path', () => {
  // Taylor, Introduction to Management Science, ch. 8 problems 4 and 5, published solution table: examples E-46 and E-47.
  it.each([
    ['1-2:7 1-3:10 2-4:6 3-4:5 3-5:4 4-5:3 5-6:2', 20, '1-3 3-4 4-5 5-6', [2, 0, 2, 0, 4, 0, 0]],
    [
      '1-2:8 1-3:10 1-4:9 2-5:6 2-6:4 3-5:5 4-5:0 4-7:7 5-7:12 5-8:15 6-9:18 7-8:4 8-9:7',
      38,
      '1-3 3-5 5-7 7-8 8-9',
      [1, 0, 6, 1, 8, 0, 6, 11, 0, 1, 8, 0, 0],
    ],
  ])('%s', (text, finish, path, slack) => {
    const plan = arcs(text);
    const found = knownValue(criticalPath(plan));
    expect(found.finish).toBe(finish);
    expect(found.path).toEqual(path.split(' '));
    expect(plan.map(({ id }) => found.dates.find((dates) => dates.id === id)?.totalFloat)).toEqual(slack);
  });

  it('any plan: floats are not negative, free float is within total float, and the path adds up to the end', () => {
    const random = seededRandom(80);
    for (let i = 0; i < 100; i++) {
      const n = 1 + Math.floor(20 * random());
      const plan = Array.from(
        { length: n },
        (_, k): TimedActivity => ({
          id: `${k}`,
          duration: Math.floor(10 * random()),
          after: Array.from({ length: k }, (__, j) => `${j}`).filter(() => random() < 0.2),
        }),
      );
      const shuffled = [...plan].sort(() => random() - 0.5);
      const found = knownValue(criticalPath(shuffled));
      const length = new Map(plan.map(({ id, duration }) => [id, duration]));
      expect(found.path.reduce((sum, id) => sum + (length.get(id) ?? Number.NaN), 0)).toBe(found.finish);
      expect(found.finish).toBe(knownValue(criticalPath(plan)).finish);
      for (const dates of found.dates) {
        expect(dates.totalFloat).toBeGreaterThanOrEqual(0);
        expect(dates.freeFloat).toBeGreaterThanOrEqual(0);
        expect(dates.freeFloat).toBeLessThanOrEqual(dates.totalFloat);
        if (found.path.includes(dates.id)) expect(dates.totalFloat).toBe(0);
        // Slipping by the total float must leave the end, by more must move it.
        const slipped = (by: number) =>
          knownValue(criticalPath(plan.map((a) => (a.id === dates.id ? { ...a, duration: a.duration + by } : a))))
            .finish;
        expect(slipped(dates.totalFloat)).toBe(found.finish);
        expect(slipped(dates.totalFloat + 1)).toBe(found.finish + 1);
      }
    }
  });

  it.each<[string, TimedActivity[], RegExp]>([
    ['nothing', [], /at least one activity/],
    [
      'a name twice',
      [
        { id: 'weld', duration: 1, after: [] },
        { id: 'weld', duration: 2, after: [] },
      ],
      /"weld" twice/,
    ],
    [
      'an unknown name',
      [{ id: 'weld', duration: 1, after: ['cut'] }],
      /"weld" to wait for known activities, got "cut"/,
    ],
    [
      'a circle',
      [
        { id: 'a', duration: 1, after: ['b'] },
        { id: 'b', duration: 1, after: ['a'] },
      ],
      /circle, got one among a, b/,
    ],
    ['itself', [{ id: 'a', duration: 1, after: ['a'] }], /circle/],
    ['a negative duration', [{ id: 'a', duration: -1, after: [] }], /at least 0 for "a", got -1/],
    ['no duration', [{ id: 'a', duration: Number.NaN, after: [] }], /"a", got NaN/],
  ])('%s: unknown', (_name, plan, words) => {
    expect(criticalPath(plan)).toMatchObject({
      known: false,
      why: { reason: 'inconsistent', detail: expect.stringMatching(words) },
    });
  });
});

describe('normal distribution', () => {
  // Tables of the normal distribution, and 50-digit values for the tails.
  it.each([
    [0, 0.5],
    [1, 0.8413447460685429],
    [-1.2815515655446004, 0.1],
    [-3.0000001, 0.0013498975884453],
    [-6, 9.86587645037698e-10],
    [-20, 2.7536241186062337e-89],
  ])('Phi(%d)', (z, expected) => {
    expectNear(normalProbability(z), expected, 1e-11);
  });

  it('rises, is symmetric, and its quantile turns it round', () => {
    let before = -1;
    for (let z = -8; z <= 8; z += 0.01) {
      const now = normalProbability(z);
      expect(now).toBeGreaterThanOrEqual(before);
      expect(Math.abs(now + normalProbability(-z) - 1)).toBeLessThan(1e-15);
      before = now;
    }
    for (const p of [1e-12, 1e-6, 0.02, 0.3, 0.5, 0.9, 0.95, 0.999])
      expectNear(normalProbability(normalQuantile(p)), p, 1e-9);
    expect(normalProbability(Number.NaN)).toBeNaN();
    expect(normalProbability(Number.POSITIVE_INFINITY)).toBe(1);
    expect(normalQuantile(1.1)).toBeNaN();
    expect(normalQuantile(0)).toBe(Number.NEGATIVE_INFINITY);
  });
});

// Hillier and Lieberman, Reliable Construction, from memory: example E-49.
const construction: readonly EstimatedActivity[] = [
  { id: 'A', estimate: three(1, 2, 3), after: [] },
  { id: 'B', estimate: three(2, 3.5, 8), after: ['A'] },
  { id: 'C', estimate: three(6, 9, 18), after: ['B'] },
  { id: 'D', estimate: three(4, 5.5, 10), after: ['C'] },
  { id: 'E', estimate: three(1, 4.5, 5), after: ['C'] },
  { id: 'F', estimate: three(4, 4, 10), after: ['E'] },
  { id: 'G', estimate: three(5, 6.5, 11), after: ['D'] },
  { id: 'H', estimate: three(5, 8, 17), after: ['E', 'G'] },
  { id: 'I', estimate: three(3, 7.5, 9), after: ['C'] },
  { id: 'J', estimate: three(3, 9, 9), after: ['F', 'I'] },
  { id: 'K', estimate: three(4, 4, 4), after: ['J'] },
  { id: 'L', estimate: three(1, 5.5, 7), after: ['J'] },
  { id: 'M', estimate: three(1, 2, 3), after: ['H'] },
  { id: 'N', estimate: three(5, 5.5, 9), after: ['K', 'L'] },
];

describe('PERT', () => {
  it('E-49 Reliable Construction', () => {
    const end = knownValue(pertFinish(construction));
    expectNear(end.mean, 44, 1e-12);
    expectNear(end.variance, 9, 1e-12);
    expect(end.path.join('')).toBe('ABCEFJLN');
    expectNear(knownValue(chanceBy(47, end)), 0.8413, 1e-4);
  });

  // Heizer and Render answer sheet, PERT Southwestern University, example E-50; the book reads z 0.56 from a table: 0.7123.
  it('E-50 stadium', () => {
    const variance = [11.11, 69.44, 136.11, 2.78, 11.11, 44.44, 44.44].reduce((sum, v) => sum + v, 0);
    expectNear(variance, 319.43, 1e-5);
    const chance = knownValue(chanceBy(270, { mean: 260, variance }));
    expectNear(chance, 0.7121, 1e-3);
    expectNear(chance, 0.7123, 1e-3);
  });

  it('of equally long ways the less certain one counts', () => {
    const end = knownValue(
      pertFinish([
        { id: 'sure', estimate: three(5, 5, 5), after: [] },
        { id: 'wide', estimate: three(2, 5, 8), after: [] },
      ]),
    );
    expect(end.path).toEqual(['wide']);
    expectNear(end.variance, 1, 1e-12);
  });

  it('without spread the date is met or not; nonsense is unknown', () => {
    expect(knownValue(chanceBy(5, { mean: 5, variance: 0 }))).toBe(1);
    expect(knownValue(chanceBy(4.9, { mean: 5, variance: 0 }))).toBe(0);
    expect(chanceBy(Number.NaN, { mean: 5, variance: 1 }).known).toBe(false);
    expect(chanceBy(5, { mean: 5, variance: -1 }).known).toBe(false);
    for (const wrong of [three(3, 2, 4), three(-1, 2, 3), three(1, 5, 4), three(1, 2, Number.NaN)])
      expect(pertFinish([{ id: 'weld', estimate: wrong, after: [] }])).toMatchObject({
        known: false,
        why: { reason: 'inconsistent', detail: expect.stringMatching(/"weld": expected 0 <= optimistic/) },
      });
  });
});

describe('beta-PERT', () => {
  // Own: (2, 3.5, 8) has standard deviation 1.069, where PERT takes 1.000.
  it('has its own deviation', () => {
    const shape = knownValue(betaShape(three(2, 3.5, 8)));
    expectNear(shape.alpha, 2, 1e-12);
    expectNear(shape.beta, 4, 1e-12);
    expectNear(shape.mean, 4, 1e-12);
    expectNear(shape.deviation, 1.069, 1e-3);
    expect(betaShape(three(4, 4, 4)).known).toBe(false);
  });

  it.each(['beta-pert', 'triangle'] as const)(
    '%s draws rise with the uniform number, stay inside and have the right mean',
    (spread) => {
      const random = seededRandom(90);
      for (let i = 0; i < 20; i++) {
        const [optimistic = 0, likely = 0, pessimistic = 0] = [random(), random(), random()]
          .map((x) => 10 * x)
          .sort((a, b) => a - b);
        const estimate = three(optimistic, likely, pessimistic);
        const draw = knownValue(durationDraw(estimate, spread));
        const n = 4000;
        let [sum, before] = [0, optimistic];
        for (let k = 0; k < n; k++) {
          const now = draw((k + 0.5) / n);
          expect(now).toBeGreaterThanOrEqual(before - 1e-12);
          before = now;
          sum += now / n;
        }
        expect(before).toBeLessThanOrEqual(pessimistic + 1e-12);
        const mean = spread === 'triangle' ? (optimistic + likely + pessimistic) / 3 : estimateMean(estimate);
        expect(Math.abs(sum - mean)).toBeLessThan(5e-4 * (pessimistic - optimistic));
        expect(Math.abs(draw(0) - optimistic)).toBeLessThan(1e-9);
        expect(Math.abs(draw(1) - pessimistic)).toBeLessThan(1e-9);
      }
      expect(knownValue(durationDraw(three(4, 4, 4), spread))(0.3)).toBe(4);
    },
  );
});

describe('simulation', () => {
  const settings = (seed: number) => ({ random: seededRandom(seed), runs: 40_000, spread: 'beta-pert' as const });

  // Own Monte Carlo of the reference, example E-49: mean 44.33, share by day 47 0.816 +- 0.003 (three standard errors of both runs here: 0.009).
  it('E-49 shows the merge bias that PERT hides', () => {
    const ends = knownValue(simulatePlan(construction, settings(7)));
    expect(Math.abs(ends.mean - 44.33)).toBeLessThan(0.06);
    expect(Math.abs(shareBy(ends, 47) - 0.816)).toBeLessThan(0.009);
    expect(ends.mean).toBeGreaterThan(knownValue(pertFinish(construction)).mean);
    const ranks = [ends.p10, ends.p50, ends.p80, ends.p95];
    expect(ranks).toEqual([...ranks].sort((a, b) => a - b));
  });

  it('one seed, one answer; another seed, another', () => {
    const run = (seed: number) => knownValue(simulatePlan(construction, { ...settings(seed), runs: 500 })).finishes;
    expect(run(3)).toEqual(run(3));
    expect(run(3)).not.toEqual(run(4));
  });

  it('a common supplier widens a chain and leaves its mean', () => {
    const chain = Array.from({ length: 5 }, (_, i) => ({
      id: `${i}`,
      after: i > 0 ? [`${i - 1}`] : [],
      estimate: three(2, 4, 9),
      group: 'supplier',
    }));
    const run = (correlation: number) => knownValue(simulatePlan(chain, { ...settings(5), runs: 10_000, correlation }));
    const [apart, together] = [run(0), run(0.8)];
    const single = knownValue(betaShape(three(2, 4, 9)));
    expectNear(apart.mean, 5 * single.mean, 5e-3);
    expectNear(together.mean, 5 * single.mean, 1e-2);
    expectNear((apart.p80 - apart.p50) / (Math.sqrt(5) * single.deviation), 0.8416, 0.05);
    expect(together.p95 - together.p10).toBeGreaterThan(1.7 * (apart.p95 - apart.p10));
  });

  it.each([
    [{ runs: 99 }, /runs from 100/],
    [{ runs: 1000.5 }, /runs from 100/],
    [{ correlation: 1.1 }, /correlation from 0 to 1/],
  ])('%j: unknown', (wrong, words) => {
    expect(simulatePlan(construction, { ...settings(1), ...wrong })).toMatchObject({
      known: false,
      why: { reason: 'inconsistent', detail: expect.stringMatching(words) },
    });
  });

  it('a bad plan is unknown here too', () => {
    const bad = [{ id: 'a', estimate: three(1, 2, 3), after: ['b'] }];
    expect(simulatePlan(bad, settings(1))).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
  });
});

describe('fallback route', () => {
  const tasks = [three(2, 3, 5), three(4, 6, 10), three(1, 2, 4), three(1, 1, 2)];

  // Own, example E-51: event on day 60.
  it.each([
    [0.9, 45.58],
    [0.95, 45.13],
  ])('E-51 latest start at %d', (confidence, day) => {
    const start = knownValue(fallbackStart(60, tasks, confidence));
    expectNear(start.mean, 12.833, 1e-4);
    expectNear(start.deviation, 1.236, 1e-3);
    expect(Math.abs(start.latestStart - day)).toBeLessThan(0.01);
  });

  it('simulated start lies near the normal one, and a surer promise starts earlier', () => {
    const at = (confidence: number) =>
      knownValue(
        simulatedFallbackStart(60, tasks, confidence, { random: seededRandom(6), runs: 20_000, spread: 'beta-pert' }),
      );
    expect(Math.abs(at(0.9) - 45.58)).toBeLessThan(0.25);
    expect(at(0.99)).toBeLessThan(at(0.9));
    expect(at(0.9)).toBeLessThan(at(0.5));
  });

  it.each([
    ['no deadline', Number.NaN, tasks, 0.9],
    ['no tasks', 60, [], 0.9],
    ['a confidence of one', 60, tasks, 1],
    ['a coin toss the wrong way', 60, tasks, 0.4],
    ['a bad estimate', 60, [three(3, 2, 1)], 0.9],
  ])('%s: unknown', (_name, deadline, list, confidence) => {
    const settings = { random: seededRandom(1), runs: 100, spread: 'triangle' as const };
    for (const made of [
      fallbackStart(deadline, list, confidence),
      simulatedFallbackStart(deadline, list, confidence, settings),
    ])
      expect(made).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
  });
});
