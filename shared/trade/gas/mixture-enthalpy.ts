import { type Known, known, unknown } from '../../units/known.ts';
import { molarGasConstant, type Species, species, thermo, thermoBreak, thermoRange } from '../data/nasa9.ts';
import { enthalpyConstants } from '../data/nasa9-enthalpy.ts';
import { type Limits, outsideLimits } from '../data/validity.ts';
import type { MoleFractions } from './exhaust-composition.ts';
import { fractionFault, mixtureMolarMass } from './gas-mixture.ts';

const limits: Limits<'temperature'> = { temperature: { range: thermoRange, unit: 'temperature' } };

/**
 * Molar enthalpy of a species at `temperature` (K, 200 to 6000), J/mol, heat of formation at 298.15 K included; outside: outside
 * validity. Source: NASA TP-2002-211556. The a1 term carries no factor one half (one library's page prints one by mistake).
 */
export function speciesEnthalpy(of: Species, temperature: number): Known<number> {
  const outside = outsideLimits(`enthalpy of ${of}`, limits, { temperature });
  if (outside) return outside;
  const below = temperature < thermoBreak;
  const [a1, a2, a3, a4, a5, a6, a7] = below ? thermo[of].low : thermo[of].high;
  const b1 = enthalpyConstants[of][below ? 0 : 1];
  const t = temperature;
  const powers = t * (a3 + t * (a4 / 2 + t * (a5 / 3 + t * (a6 / 4 + t * (a7 / 5)))));
  return known(molarGasConstant * (-a1 / t + a2 * Math.log(t) + powers + b1));
}

/** Enthalpy of an ideal mixture at `temperature` (K, 200 to 6000), J/kg, heats of formation included; fractions as in mixtureState. */
export function mixtureEnthalpy(fractions: MoleFractions, temperature: number): Known<number> {
  const wrong = fractionFault(fractions);
  if (wrong) return unknown(wrong);
  let molar = 0;
  for (const s of species) {
    const h = speciesEnthalpy(s, temperature);
    if (!h.known) return h;
    molar += fractions[s] * h.value;
  }
  return known(molar / mixtureMolarMass(fractions));
}
