import { expect, it } from 'vitest';
import { NEARNESS_FAR, nearnessCap, nearnessLevel } from './nearness.ts';

it.each([
  ['inside', -0.003, 0],
  ['in contact', 0, 0],
  ['half a step away', nearnessCap / 254 / 2, 1],
  ['halfway', nearnessCap / 2, 127],
  ['just nearer than the cap', nearnessCap - 1e-9, 254],
  ['at the cap', nearnessCap, NEARNESS_FAR],
  ['beyond it', 3, NEARNESS_FAR],
  ['no number', Number.NaN, NEARNESS_FAR],
])('%s is told as one byte', (_, distance, level) => {
  expect(nearnessLevel(distance, nearnessCap)).toBe(level);
});
