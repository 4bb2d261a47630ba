import type { Source } from '../source.ts';

/** Hole classes for dowels: H7 holds, F8 slips (2 um of interference with m6 remain possible). */
export const dowelHoles = ['F8', 'H7', 'H8'] as const;
/** One of {@link dowelHoles}. */
export type DowelHole = (typeof dowelHoles)[number];

/** Lower and upper deviations from nominal, m, for sizes up to `upTo` (m). */
export interface DowelBand extends Readonly<Record<DowelHole | 'm6', readonly [number, number]>> {
  readonly upTo: number;
}

const um = 1e-6;
const band = (low: number, high: number): readonly [number, number] => [low * um, high * um];

/** ISO 286-2 bands of small dowels. */
export const dowelBands: readonly DowelBand[] = [
  { upTo: 3e-3, m6: band(2, 8), H7: band(0, 10), H8: band(0, 14), F8: band(6, 20) },
  { upTo: 6e-3, m6: band(4, 12), H7: band(0, 12), H8: band(0, 18), F8: band(10, 28) },
  { upTo: 10e-3, m6: band(6, 15), H7: band(0, 15), H8: band(0, 22), F8: band(13, 35) },
];

/** Where {@link dowelBands} come from. */
export const dowelBandsSource: Source = {
  document: 'ISO 286-2',
  clause: 'm6, H7, H8, F8',
  trust: 'memory',
  note: 'm6, H7 and H8 read in an excerpt, F8 from memory',
};
