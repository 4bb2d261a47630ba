import type { Source } from '../source.ts';

/** Inside surfaces a runner or collector can have. */
export const surfaceKeys = [
  'drawn-tube',
  'printed-625',
  'seamless-non-ferrous',
  'seamless-steel',
  'welded-steel',
] as const;
/** Key of a row of {@link roughness}. */
export type SurfaceKey = (typeof surfaceKeys)[number];

/** Equivalent sand-grain roughness band of a surface, m. */
export interface Roughness {
  readonly low: number;
  readonly high: number;
  readonly source: Source;
}

const um = 1e-6;
const idelchik: Source = {
  document: 'Idelchik, Handbook of Hydraulic Resistance, 4th ed. 2007',
  trust: 'excerpt',
  note: 'read in an open library',
};

/** Roughness bands by surface; check a loss with the high end. */
export const roughness: Readonly<Record<SurfaceKey, Roughness>> = {
  'drawn-tube': { low: 1.5 * um, high: 1.5 * um, source: { document: 'Moody class "drawn tubing"', trust: 'excerpt' } },
  'printed-625': {
    low: 5.863 * 6 * um,
    high: 5.863 * 35 * um,
    source: {
      document:
        'Adams, Grant and Watson 2012: equivalent roughness = 5.863 Ra, with as-printed Ra 6 to 35 um (common practice)',
      trust: 'uncertain',
      note: 'factor good to +-50 %; no measured friction of printed 625 at tube scale was found',
    },
  },
  'seamless-non-ferrous': { low: 1.5 * um, high: 10 * um, source: idelchik },
  'seamless-steel': { low: 20 * um, high: 100 * um, source: idelchik },
  'welded-steel': { low: 40 * um, high: 100 * um, source: idelchik },
};
