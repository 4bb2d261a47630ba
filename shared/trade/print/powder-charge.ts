import { type Known, known } from '../../units/known.ts';
import { contradiction, type Limit, outsideLimits } from '../limits.ts';

/** A filled bed; SI. */
export interface PowderBed {
  readonly bedLength: number;
  readonly bedWidth: number;
  /** Build height with plate allowance left out. */
  readonly height: number;
  /** Parts and supports. */
  readonly solidVolume: number;
  readonly density: number;
  /** Share of the bed that is metal, 0.55 to 0.60 (common practice). */
  readonly packing: number;
  /** Powder dosed over powder laid, 1.3 to 2.0 (common practice). */
  readonly dosing: number;
}
/** Bed volume in m3, masses in kg. */
export interface PowderCharge {
  readonly bedVolume: number;
  readonly loose: number;
  readonly solid: number;
  readonly total: number;
  readonly charge: number;
}

const limits: Readonly<Record<keyof PowderBed, Limit>> = {
  bedLength: ['length', 0.02, 1.5],
  bedWidth: ['length', 0.02, 1.5],
  height: ['length', 1e-4, 1],
  solidVolume: ['volume', 0, 0.5],
  density: ['density', 1000, 2e4],
  packing: ['share', 0.3, 0.75],
  dosing: ['ratio', 1, 3],
};

/** Powder a build needs. Source: own balance, rho (phi (V_bed - V_solid) + V_solid). */
export function powderCharge(bed: PowderBed): Known<PowderCharge> {
  const refused = outsideLimits('powder-charge', bed, limits);
  if (refused) return refused;
  const bedVolume = bed.bedLength * bed.bedWidth * bed.height;
  if (bed.solidVolume > bedVolume)
    return contradiction(
      `powder-charge: expected parts smaller than the bed (${bedVolume} m3), got ${bed.solidVolume} m3`,
    );
  const loose = bed.density * bed.packing * (bedVolume - bed.solidVolume);
  const solid = bed.density * bed.solidVolume;
  return known({ bedVolume, loose, solid, total: loose + solid, charge: bed.dosing * (loose + solid) });
}
