import { type Known, known, unknown } from '../../units/known.ts';
import { type DowelHole, dowelBands } from '../data/dowel-bands.ts';

/** Least and greatest diametral clearance, m; negative is interference. */
export interface FitClearance {
  readonly least: number;
  readonly greatest: number;
}

/** Clearance of an m6 dowel in a hole of nominal `diameter` (m, 1 to 10 mm). Source: ISO 286-2 (m6, H7, H8 read in an excerpt, F8 from memory). */
export function dowelFit(diameter: number, hole: DowelHole): Known<FitClearance> {
  const row = diameter >= 1e-3 ? dowelBands.find(({ upTo }) => diameter <= upTo + 1e-9) : undefined;
  if (!row)
    return unknown({
      reason: 'outOfValidity',
      input: 'dowel-fit: diameter',
      value: diameter,
      range: [1e-3, 10e-3],
      unit: 'length',
    });
  const [low, high] = row[hole];
  const [pinLow, pinHigh] = row.m6;
  return known({ least: low - pinHigh, greatest: high - pinLow });
}
