import type { Source } from '../source.ts';

/** Families of base metal with their own limits. */
export const weldFamilies = ['austenitic', 'nickel', 'titanium'] as const;
/** One of {@link weldFamilies}. */
export type WeldFamily = (typeof weldFamilies)[number];

/** A preferred value and the greatest one, SI. */
export interface WeldLimit {
  readonly preferred: number;
  readonly greatest: number;
  readonly source: Source;
}

const C = 273.15;
const ppm = 1e-6;

/** Temperature between passes, K. */
export const interpassLimits: Readonly<Record<WeldFamily, WeldLimit>> = {
  austenitic: {
    preferred: 150 + C,
    greatest: 175 + C,
    source: { document: 'stainless welding practice', trust: 'memory' },
  },
  nickel: {
    preferred: 100 + C,
    greatest: 150 + C,
    source: {
      document: 'published 625 pipe procedure qualification (ASME IX)',
      trust: 'excerpt',
      note: '150 C read; 100 to 120 C preferred for thin printed pieces is common practice; 175 C is quoted for nickel alloys in general',
    },
  },
  titanium: {
    preferred: 100 + C,
    greatest: 120 + C,
    source: { document: 'titanium welding practice', trust: 'uncertain' },
  },
};

/** Heat input of 625 with a wall of 1 to 3 mm, J/m: working limit, guard and absolute. Source: common practice, doubtful; nothing authoritative was found. */
export const heatInputSteps = { working: 0.5e6, guard: 1e6, absolute: 1.5e6 } as const;

/** Oxygen in the back purge. */
export const purgeOxygen: Readonly<Record<WeldFamily, WeldLimit>> = {
  austenitic: {
    preferred: 20 * ppm,
    greatest: 100 * ppm,
    source: {
      document: 'orbital welding pages',
      trust: 'excerpt',
      note: 'root porosity risk is named from 500 to 800 ppm',
    },
  },
  nickel: {
    preferred: 100 * ppm,
    greatest: 500 * ppm,
    source: { document: 'common practice, no source', trust: 'uncertain', note: 'target 50 to 100 ppm' },
  },
  titanium: {
    preferred: 10 * ppm,
    greatest: 10 * ppm,
    source: { document: 'purge equipment page', trust: 'excerpt', note: 'until below 420 C; trailing shield needed' },
  },
};

/** Root temperature down to which the purge is kept, K. Source: common practice; titanium read in an excerpt. */
export const purgeUntil: Readonly<Record<WeldFamily, number>> = {
  austenitic: 250 + C,
  nickel: 250 + C,
  titanium: 420 + C,
};

/** Least volume changes before the arc. Source: common practice; the guide AWS D10.11 was not read. */
export const purgeVolumeChanges: Readonly<Record<WeldFamily, number>> = { austenitic: 5, nickel: 5, titanium: 10 };

/** Oxygen in backing argon behind each colour sample, sample 1 first. The standard names a degree of colour with it, not an oxygen limit. Source: AWS D18.2 (excerpt). */
export const colourSamples: readonly number[] = [10, 25, 50, 100, 200, 500, 1000, 5000, 12500, 25000].map(
  (v) => v * ppm,
);
