import type { Source } from '../source.ts';

/** Wall to order before bending over the wall needed after it, by R/D. Source: ASME B31.1 recommendation, from memory. */
export const preBendWall: readonly (readonly [tightness: number, factor: number])[] = [
  [3, 1.25],
  [4, 1.14],
  [5, 1.08],
  [6, 1.06],
];

/** Greatest ovality by where the pressure is. Source: ASME B31.3, from memory. */
export const ovalityLimits = { internalPressure: 0.08, externalPressure: 0.03 } as const;

/** Straight between bends that a machine clamps, in outside diameters, and what a cut-and-weld joint wants for saw and purge, m. */
export const straightBetweenBends = { clampDiameters: [1, 2], cutAndWeld: 10e-3 } as const;
/** Where {@link straightBetweenBends} come from. */
export const straightBetweenBendsSource: Source = { document: 'common practice, no source', trust: 'practice' };
