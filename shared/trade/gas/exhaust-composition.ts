import { type Known, known, unknown } from '../../units/known.ts';
import type { Species } from '../data/nasa9.ts';
import type { Source } from '../source.ts';

/** Mole fractions by species; they add up to 1. */
export type MoleFractions = Readonly<Record<Species, number>>;

/** Where the composition model comes from. */
export const compositionSource: Source = {
  document: 'Heywood, Internal Combustion Engine Fundamentals',
  clause:
    'complete combustion (lean); water-gas constant frozen at 3.5 (rich); 3.773 mol apparent nitrogen per mol oxygen',
  trust: 'memory',
  note: 'fuel taken as iso-octane; below lambda 0.7 unburned fuel appears and the model does not hold',
};

/** Lambda range in which {@link exhaustComposition} holds. */
export const lambdaRange = [0.7, 3] as const;

/** Iso-octane C8H18. */
const carbon = 8;
const hydrogen = 18;
/** Oxygen molecules a fuel molecule needs. */
const oxygenNeed = carbon + hydrogen / 4;
/** Moles of apparent nitrogen (argon included) per mole of oxygen in air. */
const nitrogenPerOxygen = 3.773;
/** (H2O CO) / (CO2 H2), frozen at the value for 1740 K. */
const waterGasConstant = 3.5;

/**
 * Exhaust composition of iso-octane burned at `lambda`, mole fractions: complete combustion at lambda >= 1, frozen water-gas
 * balance below. Outside 0.7 to 3: outside validity. Source: {@link compositionSource}.
 */
export function exhaustComposition(lambda: number): Known<MoleFractions> {
  const [low, high] = lambdaRange;
  if (!(lambda >= low && lambda <= high)) {
    return unknown({
      reason: 'outOfValidity',
      input: 'exhaust composition: lambda',
      value: lambda,
      range: [low, high],
      unit: 'ratio',
    });
  }
  return known(normalised(lambda >= 1 ? leanMoles(lambda) : richMoles(lambda)));
}

/** Moles per mole of fuel with all carbon and hydrogen burned. */
function leanMoles(lambda: number): MoleFractions {
  return {
    CO2: carbon,
    CO: 0,
    H2O: hydrogen / 2,
    H2: 0,
    O2: (lambda - 1) * oxygenNeed,
    N2: nitrogenPerOxygen * lambda * oxygenNeed,
  };
}

/** Moles per mole of fuel with no free oxygen: one unknown, CO2, found by bisection on the interval where no species is negative. */
function richMoles(lambda: number): MoleFractions {
  const oxygenAtoms = 2 * lambda * oxygenNeed;
  const split = (co2: number) => {
    const h2o = oxygenAtoms - carbon - co2;
    return { CO2: co2, CO: carbon - co2, H2O: h2o, H2: hydrogen / 2 - h2o };
  };
  let low = Math.max(0, oxygenAtoms - carbon - hydrogen / 2);
  let high = Math.min(carbon, oxygenAtoms - carbon);
  // Bisection to the last bit: excess is positive at `low` (no CO2 or no H2) and falls to zero or below at `high`.
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    const m = split(middle);
    if (m.H2O * m.CO > waterGasConstant * m.CO2 * m.H2) low = middle;
    else high = middle;
  }
  return { ...split((low + high) / 2), O2: 0, N2: nitrogenPerOxygen * lambda * oxygenNeed };
}

function normalised(moles: MoleFractions): MoleFractions {
  const { CO2, CO, H2O, H2, O2, N2 } = moles;
  const total = CO2 + CO + H2O + H2 + O2 + N2;
  return { CO2: CO2 / total, CO: CO / total, H2O: H2O / total, H2: H2 / total, O2: O2 / total, N2: N2 / total };
}
