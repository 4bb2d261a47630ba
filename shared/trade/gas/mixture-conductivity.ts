import { type Known, known, unknown } from '../../units/known.ts';
import { conductivityFits } from '../data/conductivity.ts';
import type { Species } from '../data/nasa9.ts';
import { outsideLimits } from '../data/validity.ts';
import type { MoleFractions } from './exhaust-composition.ts';
import { fractionFault, mixByWilke } from './gas-mixture.ts';

/** Thermal conductivity of a species at `temperature` (K), W/(m.K); outside the fit (H2O starts at 373.2 K): outside validity. */
export function speciesConductivity(of: Species, temperature: number): Known<number> {
  const [lower, upper] = conductivityFits[of];
  const limits = {
    temperature: { range: [lower.range[0], upper.range[1]] as const, unit: 'temperature' },
  };
  const outside = outsideLimits(`conductivity of ${of}`, limits, { temperature });
  if (outside) return outside;
  const [a, b, c, d] = (temperature <= lower.range[1] ? lower : upper).coefficients;
  return known(1e-4 * Math.exp(a * Math.log(temperature) + b / temperature + c / temperature ** 2 + d));
}

/** Thermal conductivity of a mixture at `temperature` (K), W/(m.K), Mason-Saxena rule with factor 1 (from memory). */
export function mixtureConductivity(fractions: MoleFractions, temperature: number): Known<number> {
  const wrong = fractionFault(fractions);
  if (wrong) return unknown(wrong);
  return mixByWilke(fractions, temperature, speciesConductivity);
}
