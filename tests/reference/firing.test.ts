import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../shared/geometry/random.ts';
import { evenIntervals, type Firing, firingAngles, groupSeparation } from '../../shared/trade/gas/firing.ts';
import { bestGrouping, groupingOf } from '../../shared/trade/gas/grouping.ts';
import { knownValue } from './nearness.ts';

const degrees = Math.PI / 180;
const order = (text: string) => text.split('-').map(Number);
const split = (text: string) => text.split('/').map((group) => group.split('+').map(Number));
const inDegrees = (radians: number) => Math.round((radians / degrees) * 1e6) / 1e6;

describe('best grouping', () => {
  // Table of firing orders, own enumeration; the four-cylinder grouping is published too. Examples E-09.
  it.each([
    ['1-3-2', '1+2+3', 240],
    ['1-3-4-2', '1+4/2+3', 360],
    ['1-2-4-3', '1+4/2+3', 360],
    ['1-5-3-6-2-4', '1+2+3/4+5+6', 240],
    ['1-3-2-4', '1+2/3+4', 360],
    ['1-6-2-4-3-5', '1+2+3/4+5+6', 240],
    ['1-2-3-4-5-6', '1+3+5/2+4+6', 240],
    ['1-6-5-4-3-2', '1+3+5/2+4+6', 240],
    ['1-4-2-5-3-6', '1+2+3/4+5+6', 240],
    ['1-4-3-6-2-5', '1+2+3/4+5+6', 240],
    ['1-8-4-3-6-5-7-2', '1+4+6+7/2+3+5+8', 180],
    ['1-8-7-2-6-5-4-3', '1+4+6+7/2+3+5+8', 180],
    ['1-5-4-8-6-3-7-2', '1+4+6+7/2+3+5+8', 180],
    ['1-3-7-2-6-5-4-8', '1+4+6+7/2+3+5+8', 180],
    ['1-5-3-7-4-8-2-6', '1+2+3+4/5+6+7+8', 180],
  ])('%s into %s', (text, groups, separation) => {
    const cylinders = order(text);
    const best = knownValue(bestGrouping(cylinders, evenIntervals(cylinders.length), split(groups).length));
    expect(best.groups.map((group) => group.cylinders)).toEqual(split(groups));
    expect(inDegrees(best.separation)).toBe(separation);
  });

  // Same table: what a split by banks gives.
  it.each([
    ['1-3-2-4', '1+3/2+4', 180],
    ['1-6-2-4-3-5', '1+2+3/4+5+6', 240],
    ['1-2-3-4-5-6', '1+3+5/2+4+6', 240],
    ['1-8-4-3-6-5-7-2', '1+3+5+7/2+4+6+8', 90],
    ['1-5-3-7-4-8-2-6', '1+2+3+4/5+6+7+8', 180],
  ])('%s by banks %s', (text, groups, separation) => {
    const cylinders = order(text);
    const made = knownValue(groupingOf(cylinders, evenIntervals(cylinders.length), split(groups)));
    expect(inDegrees(made.separation)).toBe(separation);
  });

  // Same table, five cylinders: no 3+2 split keeps the trio above 144, the pair can reach 288.
  it('five cylinders', () => {
    const cylinders = order('1-2-4-5-3');
    const best = knownValue(bestGrouping(cylinders, evenIntervals(5), 2));
    expect(best.groups.map(({ cylinders: c }) => c.length).sort()).toEqual([2, 3]);
    expect(best.groups.map(({ separation }) => inDegrees(separation)).sort()).toEqual([144, 288]);
    const named = knownValue(groupingOf(cylinders, evenIntervals(5), split('1+4/2+3+5')));
    expect(named.groups.map(({ separation }) => inDegrees(separation))).toEqual([288, 144]);
  });

  /** Every way to put n things into groups, by counting in base g: slow and plain. */
  function slowBest(firings: readonly Firing[], count: number): number {
    let best = Number.NEGATIVE_INFINITY;
    for (let code = 0; code < count ** firings.length; code++) {
      const groups = Array.from({ length: count }, (): Firing[] => []);
      for (const [i, firing] of firings.entries()) groups[Math.floor(code / count ** i) % count]?.push(firing);
      if (groups.some((group) => group.length === 0)) continue;
      best = Math.max(best, Math.min(...groups.map((group) => knownValue(groupSeparation(group)))));
    }
    return best;
  }

  it('meets plain enumeration for uneven intervals and shuffled orders', () => {
    const random = seededRandom(9);
    for (let i = 0; i < 60; i++) {
      const n = 2 + Math.floor(6 * random());
      const weights = Array.from({ length: n }, () => 0.2 + random());
      const total = weights.reduce((sum, w) => sum + w, 0);
      const intervals = weights.map((w) => (w / total) * 4 * Math.PI);
      const cylinders = Array.from({ length: n }, (_, k) => k + 1).sort(() => random() - 0.5);
      const count = 1 + Math.floor(Math.min(3, n) * random());
      const best = knownValue(bestGrouping(cylinders, intervals, count));
      const slow = slowBest(knownValue(firingAngles(cylinders, intervals)), count);
      expect(Math.abs(best.separation - slow)).toBeLessThan(1e-9);
      expect(best.groups.flatMap((group) => group.cylinders).sort((a, b) => a - b)).toEqual(
        [...cylinders].sort((a, b) => a - b),
      );
      for (const group of best.groups)
        expect(group.separation).toBeLessThanOrEqual((4 * Math.PI) / group.cylinders.length + 1e-9);
    }
  });

  it.each([1, 2, 3, 4, 6, 12])('twelve cylinders into %d groups reach the bound of even spacing', (count) => {
    const cylinders = order('1-7-5-11-3-9-6-12-2-8-4-10');
    const best = knownValue(bestGrouping(cylinders, evenIntervals(12), count));
    expect(inDegrees(best.separation)).toBe(60 * count);
  });
});

describe('bad firing input', () => {
  const even = evenIntervals(4);
  it.each([
    ['a cylinder twice', [1, 3, 3, 2], even, /each of 1 to 4 once, got 1-3-3-2/],
    ['a cylinder that is not there', [1, 3, 5, 2], even, /each of 1 to 4 once/],
    ['no whole number', [1, 3, Number.NaN, 2], even, /each of 1 to 4 once/],
    ['no cylinders', [], [], /1 to 12 cylinders, got 0/],
    ['too many cylinders', Array.from({ length: 13 }, (_, i) => i + 1), evenIntervals(13), /1 to 12 cylinders, got 13/],
    ['a missing interval', [1, 3, 4, 2], even.slice(1), /expected 4, one for each cylinder, got 3/],
    ['an interval of zero', [1, 3, 4, 2], [0, Math.PI, Math.PI, 2 * Math.PI], /above 0/],
    ['a cycle of one turn', [1, 3, 4, 2], even.map((x) => x / 2), /sum of 4 pi/],
    ['intervals in degrees', [1, 3, 4, 2], [180, 180, 180, 180], /above 0 up to 4 pi rad, got 180/],
  ])('%s', (_name, cylinders, intervals, words) => {
    for (const made of [firingAngles(cylinders, intervals), bestGrouping(cylinders, intervals, 2)])
      expect(made).toMatchObject({
        known: false,
        why: { reason: 'inconsistent', detail: expect.stringMatching(words) },
      });
  });

  it.each([0, 5, 1.5, Number.NaN])('%d groups of four cylinders', (count) => {
    expect(bestGrouping([1, 3, 4, 2], even, count)).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
  });

  it.each([
    [[[1, 4], [2]]],
    [
      [
        [1, 4],
        [2, 3, 3],
      ],
    ],
    [[[1, 2, 3, 4], []]],
  ])('a split that is none: %j', (groups) => {
    expect(groupingOf([1, 3, 4, 2], even, groups)).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
  });

  it('a group of none, and angles outside the cycle', () => {
    expect(groupSeparation([]).known).toBe(false);
    expect(groupSeparation([{ cylinder: 1, angle: -1 }]).known).toBe(false);
  });
});
