import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../geometry/random.ts';
import { fallingRoot } from './bracket.ts';

/** Plain halving down to neighbouring numbers: slow, and shares nothing with the code tested. */
function halving(excess: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  for (;;) {
    const middle = (a + b) / 2;
    if (middle <= a || middle >= b) return middle;
    if (excess(middle) >= 0) a = middle;
    else b = middle;
  }
}

describe('falling root', () => {
  it('agrees with plain halving on seeded heat balances, in a fraction of the steps (seed 51, 2000 balances)', () => {
    const random = seededRandom(51);
    let steps = 0;
    for (let i = 0; i < 2000; i++) {
      const [heat, loss, power] = [1e5 * random(), 1 + 50 * random(), 1 + 4 * random()];
      const excess = (t: number) => heat - loss * t - 1e-7 * t ** power;
      const found = fallingRoot((t) => excess(t + 0 * steps++), 0, heat);
      expect(Math.abs((found ?? Number.NaN) / halving(excess, 0, heat) - 1)).toBeLessThan(1e-13);
    }
    expect(steps / 2000).toBeLessThan(16);
  });

  it.each<[string, (x: number) => number, number, number, number]>([
    ['a step', (x) => (x < Math.PI ? 1 : -1), 0, 10, Math.PI],
    ['a ninth power, flat at the root', (x) => (2 - x) ** 9, 0, 10, 2],
    ['an exponential, flat at one end', (x) => Math.exp(-x) - 1e-12, 0, 100, 12 * Math.LN10],
    ['a root at the upper end', (x) => 1 - x, 0, 1, 1],
    ['a root at the lower end', (x) => 1 - x, 1, 5, 1],
  ])('finds %s', (_, excess, low, high, root) => {
    expect(Math.abs((fallingRoot(excess, low, high) ?? Number.NaN) / root - 1)).toBeLessThan(2e-15);
  });

  it('has no answer where the excess does not fall through zero, or is no number', () => {
    expect(fallingRoot((x) => 1 - x, 2, 3)).toBeNull();
    expect(fallingRoot((x) => 1 - x, 0, 0.5)).toBeNull();
    expect(fallingRoot((x) => x - 1, 0, 2)).toBeNull();
    expect(fallingRoot(() => Number.NaN, 0, 1)).toBeNull();
    expect(fallingRoot((x) => (x > 0.3 && x < 0.7 ? Number.NaN : 0.5 - x), 0, 1)).toBeNull();
  });

  it('ends for an excess that never settles', () => {
    expect(fallingRoot((x) => (x === 0 ? 1 : -1), 0, 1)).toBeLessThan(1e-50);
  });
});
