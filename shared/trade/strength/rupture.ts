import { type Known, known, unknown } from '../../units/known.ts';
import { type RuptureKey, rupturePoints } from '../data/rupture-points.ts';
import { interpolate, type Point, tableRange } from '../interpolation.ts';
import { larsonMillerParameter } from './larson-miller-parameter.ts';

/**
 * Stress, Pa, that ruptures the metal after `life` (s) at `temperature` (K): straight line of log stress between the published
 * Larson-Miller points. Outside those points: outside validity (the parameter is named). Source: the set in data/rupture-points.
 */
export function ruptureStress(of: RuptureKey, temperature: number, life: number): Known<number> {
  const parameter = larsonMillerParameter.evaluate({ temperature, life });
  if (!parameter.known) return parameter;
  const { points } = rupturePoints[of];
  const found = interpolate(
    points.map(([x, stress]): Point => [x, Math.log(stress)]),
    parameter.value,
  );
  if (found !== null) return known(Math.exp(found));
  return unknown({
    reason: 'outOfValidity',
    input: `rupture stress of ${of}: Larson-Miller parameter`,
    value: parameter.value,
    range: tableRange(points),
    unit: 'ratio',
  });
}

/** Life, s, under a steady `stress` (Pa) at `temperature` (K), the inverse of {@link ruptureStress}; outside the points: outside validity. */
export function lifeAtStress(of: RuptureKey, stress: number, temperature: number): Known<number> {
  if (!(temperature >= 473.15 && temperature <= 1473.15)) {
    const range: readonly [number, number] = [473.15, 1473.15];
    const input = `life of ${of}: temperature`;
    return unknown({ reason: 'outOfValidity', input, value: temperature, range, unit: 'temperature' });
  }
  const falling = rupturePoints[of].points.map(([x, s]): Point => [Math.log(s), x]).reverse();
  const parameter = stress > 0 ? interpolate(falling, Math.log(stress)) : null;
  if (parameter !== null) return known(3600 * 10 ** (parameter / temperature - 20));
  const [least, most] = tableRange(falling);
  return unknown({
    reason: 'outOfValidity',
    input: `life of ${of}: stress`,
    value: stress,
    range: [Math.exp(least), Math.exp(most)],
    unit: 'stress',
  });
}
