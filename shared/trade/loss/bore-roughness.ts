import { type Known, known } from '../../units/known.ts';
import { roughness, type SurfaceKey } from '../data/roughness.ts';
import { type Limits, outsideLimits } from '../data/validity.ts';

const limits: Limits<'bore'> = { bore: { range: [5e-3, 0.5], unit: 'length' } };

/** Relative roughness band epsilon / D of a surface in a bore (inside diameter, m, 5 mm to 0.5 m), dimensionless. Source: the roughness table. */
export function relativeRoughness(
  surface: SurfaceKey,
  bore: number,
): Known<{ readonly low: number; readonly high: number }> {
  const outside = outsideLimits('relative roughness', limits, { bore });
  if (outside) return outside;
  const band = roughness[surface];
  return known({ low: band.low / bore, high: band.high / bore });
}
