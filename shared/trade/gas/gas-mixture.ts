import { type Known, known, unknown, type Why } from '../../units/known.ts';
import { molarGasConstant, type Species, species, thermo, thermoBreak, thermoRange } from '../data/nasa9.ts';
import { viscosityFits } from '../data/viscosity.ts';
import type { MoleFractions } from './exhaust-composition.ts';

/** Ideal-gas state of a mixture at one temperature, SI. */
export interface MixtureState {
  /** kg/mol. */
  readonly molarMass: number;
  /** R, J/(kg.K). */
  readonly gasConstant: number;
  /** cp, J/(kg.K). */
  readonly heatCapacity: number;
  /** cp / (cp - R). */
  readonly gamma: number;
}

/** Molar mass of a mixture, kg/mol. */
export function mixtureMolarMass(fractions: MoleFractions): number {
  return species.reduce((sum, s) => sum + fractions[s] * thermo[s].molarMass, 0);
}

/** Molar heat capacity of a species at `temperature` (K, 200 to 6000), J/(mol.K), from the NASA nine-coefficient fit. */
export function speciesHeatCapacity(of: Species, temperature: number): Known<number> {
  const [low, high] = thermoRange;
  if (!(temperature >= low && temperature <= high))
    return unknown(outside(`heat capacity of ${of}`, temperature, [low, high]));
  const [a1, a2, a3, a4, a5, a6, a7] = temperature < thermoBreak ? thermo[of].low : thermo[of].high;
  const t = temperature;
  return known(molarGasConstant * (a1 / t ** 2 + a2 / t + a3 + t * (a4 + t * (a5 + t * (a6 + t * a7)))));
}

/** State of an ideal mixture at `temperature` (K, 200 to 6000); inconsistent when the fractions do not add up to 1. */
export function mixtureState(fractions: MoleFractions, temperature: number): Known<MixtureState> {
  const wrong = fractionFault(fractions);
  if (wrong) return unknown(wrong);
  let molar = 0;
  for (const s of species) {
    const cp = speciesHeatCapacity(s, temperature);
    if (!cp.known) return cp;
    molar += fractions[s] * cp.value;
  }
  const molarMass = mixtureMolarMass(fractions);
  const gamma = molar / (molar - molarGasConstant);
  return known({ molarMass, gasConstant: molarGasConstant / molarMass, heatCapacity: molar / molarMass, gamma });
}

/** Dynamic viscosity of a species at `temperature` (K), Pa.s; outside the fit (H2O starts at 373.2 K): outside validity. */
export function speciesViscosity(of: Species, temperature: number): Known<number> {
  const [lower, upper] = viscosityFits[of];
  const range: readonly [number, number] = [lower.range[0], upper.range[1]];
  if (!(temperature >= range[0] && temperature <= range[1]))
    return unknown(outside(`viscosity of ${of}`, temperature, range));
  const [a, b, c, d] = (temperature <= lower.range[1] ? lower : upper).coefficients;
  return known(1e-7 * Math.exp(a * Math.log(temperature) + b / temperature + c / temperature ** 2 + d));
}

/** Dynamic viscosity of a mixture at `temperature` (K), Pa.s, by the mixing rule of Wilke (1950, from memory). */
export function mixtureViscosity(fractions: MoleFractions, temperature: number): Known<number> {
  const wrong = fractionFault(fractions);
  if (wrong) return unknown(wrong);
  return mixByWilke(fractions, temperature, speciesViscosity);
}

/**
 * Mixture value of a species property by the mixing rule of Wilke (viscosity) or, with the same factors, of Mason and Saxena
 * (conductivity). Species that are absent are not asked, so their range does not bind.
 */
export function mixByWilke(
  fractions: MoleFractions,
  temperature: number,
  property: (of: Species, temperature: number) => Known<number>,
): Known<number> {
  const present: { x: number; mass: number; mu: number; value: number }[] = [];
  for (const s of species) {
    if (fractions[s] === 0) continue;
    const mu = speciesViscosity(s, temperature);
    const value = property(s, temperature);
    if (!mu.known) return mu;
    if (!value.known) return value;
    present.push({ x: fractions[s], mass: thermo[s].molarMass, mu: mu.value, value: value.value });
  }
  const shares = present.map(
    (i) => (i.x * i.value) / present.reduce((sum, j) => sum + j.x * wilke(i.mu / j.mu, i.mass / j.mass), 0),
  );
  return known(shares.reduce((sum, share) => sum + share, 0));
}

/** Wilke's interaction factor from the ratios i/j of viscosity and of molar mass. */
function wilke(viscosityRatio: number, massRatio: number): number {
  return (1 + Math.sqrt(viscosityRatio) * massRatio ** -0.25) ** 2 / Math.sqrt(8 * (1 + massRatio));
}

/** Why these fractions are no mixture (negative, NaN, or not adding up to 1), or null. */
export function fractionFault(fractions: MoleFractions): Why | null {
  const total = species.reduce((sum, s) => sum + fractions[s], 0);
  const negative = species.find((s) => !(fractions[s] >= 0));
  if (!negative && Math.abs(total - 1) <= 1e-3) return null;
  const came = negative ? `${negative} ${fractions[negative]}` : `a sum of ${total}`;
  return {
    reason: 'inconsistent',
    detail: `gas mixture: expected mole fractions >= 0 that add up to 1, got ${came}`,
    paths: [],
  };
}

function outside(what: string, temperature: number, range: readonly [number, number]): Why {
  return { reason: 'outOfValidity', input: `${what}: temperature`, value: temperature, range, unit: 'temperature' };
}
