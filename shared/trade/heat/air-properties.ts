import { derive, type Known, known } from '../../units/known.ts';
import { type Limits, outsideLimits } from '../data/validity.ts';
import type { MoleFractions } from '../gas/exhaust-composition.ts';
import { mixtureState, mixtureViscosity } from '../gas/gas-mixture.ts';
import { mixtureConductivity } from '../gas/mixture-conductivity.ts';

/** Dry air at one temperature, SI. */
export interface AirProperties {
  /** k, W/(m.K). */
  readonly conductivity: number;
  /** mu, Pa.s. */
  readonly viscosity: number;
  /** cp, J/(kg.K). */
  readonly heatCapacity: number;
  /** kg/m3. */
  readonly density: number;
  /** Pr, dimensionless. */
  readonly prandtl: number;
}

const air: MoleFractions = { CO2: 0, CO: 0, H2O: 0, H2: 0, O2: 0.21, N2: 0.79 };

/** Where {@link airProperties} holds: K and Pa (ideal gas). */
export const airLimits: Limits<'temperature' | 'pressure'> = {
  temperature: { range: [220, 2000], unit: 'temperature' },
  pressure: { range: [1e4, 1e6], unit: 'pressure' },
};

/** Properties of dry air (79/21 N2/O2) at `temperature` (K) and `pressure` (Pa, absolute). Sources: NASA TP-2002-211556 and TM-4647 fits, ideal gas. */
export function airProperties(temperature: number, pressure = 101325): Known<AirProperties> {
  const outside = outsideLimits('air properties', airLimits, { temperature, pressure });
  if (outside) return outside;
  const parts = {
    state: mixtureState(air, temperature),
    viscosity: mixtureViscosity(air, temperature),
    conductivity: mixtureConductivity(air, temperature),
  };
  return derive(parts, ({ state, viscosity, conductivity }) =>
    known({
      conductivity,
      viscosity,
      heatCapacity: state.heatCapacity,
      density: pressure / (state.gasConstant * temperature),
      prandtl: (viscosity * state.heatCapacity) / conductivity,
    }),
  );
}
