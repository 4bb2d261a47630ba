import type { Source } from '../source.ts';

/** Thread sizes with clearance holes. */
export const holeSizes = ['M6', 'M8', 'M10', 'M12'] as const;
/** One of {@link holeSizes}. */
export type HoleSize = (typeof holeSizes)[number];
/** Fit series of a clearance hole. */
export type HoleSeries = 'fine' | 'medium' | 'coarse';

const mm = 1e-3;

/** Clearance hole diameters, m. */
export const clearanceHoles: Readonly<Record<HoleSize, Readonly<Record<HoleSeries, number>>>> = {
  M6: { fine: 6.4 * mm, medium: 6.6 * mm, coarse: 7 * mm },
  M8: { fine: 8.4 * mm, medium: 9 * mm, coarse: 10 * mm },
  M10: { fine: 10.5 * mm, medium: 11 * mm, coarse: 12 * mm },
  M12: { fine: 13 * mm, medium: 13.5 * mm, coarse: 14.5 * mm },
};

/** Where {@link clearanceHoles} come from. */
export const clearanceHolesSource: Source = { document: 'ISO 273', trust: 'memory' };

/** Radial clearance, m, of a stud in its hole. */
export function holeClearance(size: HoleSize, series: HoleSeries): number {
  return (clearanceHoles[size][series] - Number(size.slice(1)) * mm) / 2;
}
