import { type Known, known } from '../../units/known.ts';
import { inconsistent, type Limits, outsideLimits } from '../data/validity.ts';
import { fallingRoot } from './bracket.ts';
import { stefanBoltzmann } from './radiation.ts';

/** A thin neighbour that is shone on; SI. */
export interface Target {
  /** Grey: absorbs as it emits, dimensionless. */
  readonly emissivity: number;
  /** Faces that give heat off: 1 with an insulated or wetted back, 2 with a free one. */
  readonly faces: 1 | 2;
  /** Convection of a face to the air, W/(m2.K); 10 to 25 underhood (own). */
  readonly coefficient: number;
  /** Liquid on the back: convection in W/(m2.K) and temperature in K. */
  readonly back?: { readonly coefficient: number; readonly temperature: number };
}

const limits: Limits<
  'irradiation' | 'emissivity' | 'faces' | 'coefficient' | 'air' | 'backCoefficient' | 'backTemperature'
> = {
  irradiation: { range: [0, 1e6], unit: 'W/m2' },
  emissivity: { range: [0, 1], unit: 'share' },
  faces: { range: [1, 2], unit: 'count' },
  coefficient: { range: [1, 500], unit: 'heatTransfer' },
  air: { range: [220, 800], unit: 'temperature' },
  backCoefficient: { range: [0, 1e5], unit: 'heatTransfer' },
  backTemperature: { range: [220, 800], unit: 'temperature' },
};

/**
 * Steady temperature of a neighbour under `irradiation` (W/m2) in `air` (K), K. The face turned to the heat absorbs and radiates, a
 * second face radiates to surroundings at air temperature. Pessimistic for short pulls, optimistic for the soak after shut-down.
 * Source: own balance e G = e sigma T^4 + s h (T - T_a) + (s-1) e sigma (T^4 - T_a^4) + h_b (T - T_b), solved by bracketing.
 */
export function targetTemperature(irradiation: number, target: Target, air: number): Known<number> {
  const { emissivity, faces, coefficient } = target;
  const back = target.back ?? { coefficient: 0, temperature: air };
  const inputs = { backCoefficient: back.coefficient, backTemperature: back.temperature };
  const outside = outsideLimits('target temperature', limits, {
    irradiation,
    emissivity,
    faces,
    coefficient,
    air,
    ...inputs,
  });
  if (outside) return outside;
  const grey = emissivity * stefanBoltzmann;
  const surplus = (t: number) =>
    emissivity * irradiation -
    grey * t ** 4 -
    faces * coefficient * (t - air) -
    (faces - 1) * grey * (t ** 4 - air ** 4) -
    back.coefficient * (t - back.temperature);
  const hottest = (irradiation / stefanBoltzmann) ** 0.25 + Math.max(air, back.temperature);
  const found = fallingRoot(surplus, 0, hottest);
  return found === null ? inconsistent('target temperature: no temperature closes the balance') : known(found);
}
