import { describe, expect, it } from 'vitest';
import { findFormula } from './formulas.ts';

/** Ranges the source gives in degrees (or in grams per kilowatt hour), as they are known in the trade. */
const degrees: readonly (readonly [formula: string, input: string, low: number, high: number])[] = [
  ['wave-return-length', 'angle', 0, 720],
  ['idelchik-diffuser-loss', 'angle', 3, 180],
  ['collector-loss', 'halfAngle', 0, 45],
  ['miller-mitre-loss', 'angle', 5, 90],
  ['crane-mitre-loss', 'angle', 0, 90],
  ['rennels-mitre-loss', 'angle', 0, 150],
  ['junction-run-loss', 'angle', 30, 90],
  ['junction-branch-loss', 'angle', 30, 90],
  ['rennels-bend-loss', 'angle', 0, 180],
  ['idelchik-mitre-loss', 'angle', 10, 120],
  ['crane-bend-loss', 'angle', 0, 180],
  ['ito-bend-loss', 'angle', 45, 180],
  ['crane-diffuser-loss', 'angle', 0, 45],
  ['bend-loss', 'angle', 0, 180],
  ['bend-sagitta', 'angle', 0, 360],
  ['bend-arc', 'angle', 0, 360],
  ['bend-difficulty', 'angle', 0, 360],
  ['bend-chord', 'angle', 0, 360],
  ['local-overhang', 'polar', -90, 90],
  ['local-overhang', 'tilt', 0, 90],
];
/** From a hair below a sharp slope to upright; upright itself is inside in spite of rounding. */
const upright: readonly (readonly [formula: string, low: number])[] = [
  ['layer-step-out', 0.01],
  ['stair-roughness', 0.01],
  ['stair-height', 0.01],
  ['overhang-from-vertical', 0],
];

function rangeOf(formula: string, input: string): readonly [number, number] {
  const range = findFormula(formula)?.inputs[input]?.range;
  if (!range) throw new Error(`no input ${input} in ${formula}`);
  return range;
}

describe('ranges given in degrees', () => {
  it.each(degrees)('%s: %s from %d to %d', (formula, input, low, high) => {
    const inDegrees = rangeOf(formula, input).map((angle) => (angle * 180) / Math.PI);
    expect(inDegrees[0]).toBeCloseTo(low, 9);
    expect(inDegrees[1]).toBeCloseTo(high, 9);
  });

  it.each(upright)('%s: an upright wall is inside, an overhanging one is not', (formula, low) => {
    const range = rangeOf(formula, 'plateAngle');
    expect(range[0]).toBe(low);
    expect(range[1]).toBeGreaterThanOrEqual(Math.PI / 2);
    expect(range[1]).toBeLessThan(Math.PI / 2 + 1e-8);
  });
});

it('fuel consumption is taken from 150 to 1000 g/kWh', () => {
  const [low, high] = rangeOf('fuel-flow-from-power', 'consumption');
  expect(low * 3.6e9).toBeCloseTo(150, 9);
  expect(high * 3.6e9).toBeCloseTo(1000, 9);
});
