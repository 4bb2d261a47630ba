import { derive, type Known, known } from '../../units/known.ts';
import { inconsistent, type Limits, outsideLimits } from '../data/validity.ts';
import { airProperties } from './air-properties.ts';
import { churchillChuNusselt } from './churchill-chu-nusselt.ts';
import { stefanBoltzmann } from './radiation.ts';

/** A bare horizontal pipe in still air; m, K, emissivity dimensionless. */
export interface HotPipe {
  readonly outsideDiameter: number;
  readonly emissivity: number;
  readonly surface: number;
}
/** Air and walls around it, K. */
export interface Surroundings {
  readonly air: number;
  readonly walls: number;
}
/** What a pipe gives off: coefficients in W/(m2.K), heat in W per metre of pipe. */
export interface OutsideLoss {
  readonly rayleigh: number;
  readonly convection: number;
  readonly radiation: number;
  readonly heatPerLength: number;
}

const limits: Limits<'outsideDiameter' | 'emissivity' | 'surface' | 'air' | 'walls'> = {
  outsideDiameter: { range: [1e-3, 1], unit: 'length' },
  emissivity: { range: [0, 1], unit: 'share' },
  surface: { range: [220, 1800], unit: 'temperature' },
  air: { range: [220, 800], unit: 'temperature' },
  walls: { range: [220, 800], unit: 'temperature' },
};
/** m/s2. */
const gravity = 9.80665;

/**
 * Heat from the outside of a hot pipe: natural convection (Churchill and Chu 1975, horizontal cylinder, film temperature) plus grey
 * radiation to large surroundings. The pipe must be hotter than the air. Moving air gives off more than this. Air at 101325 Pa.
 */
export function outsideLoss(pipe: HotPipe, around: Surroundings): Known<OutsideLoss> {
  const outside = outsideLimits('outside loss', limits, { ...pipe, ...around });
  if (outside) return outside;
  const rise = pipe.surface - around.air;
  if (!(rise > 0))
    return inconsistent(
      `outside loss: expected a surface hotter than the air at ${around.air} K, got ${pipe.surface} K`,
    );
  const film = (pipe.surface + around.air) / 2;
  return derive({ air: airProperties(film) }, ({ air }) => {
    const kinematic = air.viscosity / air.density;
    const rayleigh = ((gravity / film) * rise * pipe.outsideDiameter ** 3 * air.prandtl) / kinematic ** 2;
    return derive({ nusselt: churchillChuNusselt.evaluate({ rayleigh, prandtl: air.prandtl }) }, ({ nusselt }) => {
      const convection = (nusselt * air.conductivity) / pipe.outsideDiameter;
      const radiant = pipe.emissivity * stefanBoltzmann * (pipe.surface ** 4 - around.walls ** 4);
      const heatPerLength = Math.PI * pipe.outsideDiameter * (convection * rise + radiant);
      return known({ rayleigh, convection, radiation: radiant / rise, heatPerLength });
    });
  });
}
