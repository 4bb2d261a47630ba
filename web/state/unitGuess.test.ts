import { expect, it } from 'vitest';
import { plausibleUnits, spanText } from './unitGuess.ts';

it.each([
  ['a bay in mm', [1058, 700, 837], ['mm', 'cm']],
  ['a bay in m', [1.058, 0.7, 0.837], ['m', 'in']],
  ['an outlet in inches', [1.57, 1.57, 4.72], ['m', 'in', 'cm']],
  ['a part in metres', [0.04, 0.04, 0.12], ['m']],
  ['a street', [90_000, 20_000, 8000], []],
  ['a point', [0, 0, 0], []],
] as const)('%s', (_, span, units) => {
  expect(plausibleUnits(span)).toEqual(units);
});

it('says what a unit makes of it', () => {
  expect(spanText([0.2, 2, 50], 'in')).toBe('5.08 mm x 51 mm x 1.27 m');
});
