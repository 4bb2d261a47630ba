import { type Known, known } from '../../units/known.ts';
import { outsideLimits } from '../limits.ts';

/** Molar masses, kg/mol. Source: standard atomic weights; dry air (memory). */
export const molarMasses = { argon: 39.948e-3, air: 28.965e-3 } as const;
const gasConstant = 8.314462618;

/** Density of an ideal gas, kg/m3, at `temperature` (K, 200 to 1500) and `pressure` (Pa, absolute, 1e3 to 1e6). Source: ideal gas. */
export function gasDensity(molarMass: number, temperature: number, pressure: number): Known<number> {
  const refused = outsideLimits(
    'gas-density',
    { molarMass, temperature, pressure },
    {
      molarMass: ['kg/mol', 1e-3, 0.2],
      temperature: ['temperature', 200, 1500],
      pressure: ['pressure', 1e3, 1e6],
    },
  );
  return refused ?? known((pressure * molarMass) / (gasConstant * temperature));
}

/** Argon over air at the same state: above 1 it sinks, so feed low and vent high. */
export const argonOverAir = molarMasses.argon / molarMasses.air;
