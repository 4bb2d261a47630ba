import type { Source } from '../source.ts';

/** A row of a stepped table: holds above the row before and up to this length (m); null where the standard gives none. */
export type Step = readonly [upTo: number, value: number | null];

const mm = 1e-3;
const steps = (bounds: readonly number[], values: readonly (number | null)[]): readonly Step[] =>
  bounds.map((bound, i): Step => {
    const value = values[i] ?? null;
    return [bound * mm, value === null ? null : value * mm];
  });

/** Classes of ISO 2768-1. */
export const linearClasses = ['f', 'm', 'c', 'v'] as const;
/** One of {@link linearClasses}. */
export type LinearClass = (typeof linearClasses)[number];

const linearBounds = [3, 6, 30, 120, 400, 1000, 2000, 4000];
/** Symmetric deviation of a length without a tolerance, m; starts at 0.5 mm. */
export const linearTolerances: Readonly<Record<LinearClass, readonly Step[]>> = {
  f: steps(linearBounds, [0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5, null]),
  m: steps(linearBounds, [0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 2]),
  c: steps(linearBounds, [0.2, 0.3, 0.5, 0.8, 1.2, 2, 3, 4]),
  v: steps(linearBounds, [null, 0.5, 1, 1.5, 2.5, 4, 6, 8]),
};
/** Where {@link linearTolerances} come from. */
export const linearSource: Source = {
  document: 'ISO 2768-1',
  trust: 'excerpt',
  note: 'class c up to 6 mm from memory of the ISO text (0.2 and 0.3); the DIN print read has 0.15 and 0.2',
};

const radiusBounds = [3, 6, 1000];
/** Radii and chamfers, m. Source: ISO 2768-1, from memory. */
export const radiusTolerances: Readonly<Record<LinearClass, readonly Step[]>> = {
  f: steps(radiusBounds, [0.2, 0.5, 1]),
  m: steps(radiusBounds, [0.2, 0.5, 1]),
  c: steps(radiusBounds, [0.4, 1, 2]),
  v: steps(radiusBounds, [0.4, 1, 2]),
};

const minute = Math.PI / 180 / 60;
const angles = (bounds: readonly number[], minutes: readonly number[]): readonly Step[] =>
  bounds.map((bound, i): Step => [bound * mm, (minutes[i] ?? Number.NaN) * minute]);
const angleBounds = [10, 50, 120, 400, 4000];
/** Angles by the shorter leg: m to rad. Source: ISO 2768-1, from memory. */
export const angleTolerances: Readonly<Record<LinearClass, readonly Step[]>> = {
  f: angles(angleBounds, [60, 30, 20, 10, 5]),
  m: angles(angleBounds, [60, 30, 20, 10, 5]),
  c: angles(angleBounds, [90, 60, 30, 15, 10]),
  v: angles(angleBounds, [180, 120, 60, 30, 20]),
};

/** Classes of ISO 2768-2. */
export const geometryClasses = ['H', 'K', 'L'] as const;
/** One of {@link geometryClasses}. */
export type GeometryClass = (typeof geometryClasses)[number];

const flatBounds = [10, 30, 100, 300, 1000, 3000];
/** Straightness and flatness by the longer side, m. */
export const flatnessTolerances: Readonly<Record<GeometryClass, readonly Step[]>> = {
  H: steps(flatBounds, [0.02, 0.05, 0.1, 0.2, 0.3, 0.4]),
  K: steps(flatBounds, [0.05, 0.1, 0.2, 0.4, 0.6, 0.8]),
  L: steps(flatBounds, [0.1, 0.2, 0.4, 0.8, 1.2, 1.6]),
};
const squareBounds = [100, 300, 1000, 3000];
/** Perpendicularity by the shorter side, m. */
export const perpendicularityTolerances: Readonly<Record<GeometryClass, readonly Step[]>> = {
  H: steps(squareBounds, [0.2, 0.3, 0.4, 0.5]),
  K: steps(squareBounds, [0.4, 0.6, 0.8, 1]),
  L: steps(squareBounds, [0.6, 1, 1.5, 2]),
};
/** Symmetry, m. */
export const symmetryTolerances: Readonly<Record<GeometryClass, readonly Step[]>> = {
  H: steps(squareBounds, [0.5, 0.5, 0.5, 0.5]),
  K: steps(squareBounds, [0.6, 0.6, 0.8, 1]),
  L: steps(squareBounds, [0.6, 1, 1.5, 2]),
};
/** Circular run-out, m. */
export const runOutTolerances: Readonly<Record<GeometryClass, number>> = { H: 0.1 * mm, K: 0.2 * mm, L: 0.5 * mm };
/** Where the four tables above come from. */
export const geometrySource: Source = {
  document: 'ISO 2768-2',
  trust: 'memory',
  note: 'withdrawn for ISO 22081:2021, which has no default numbers: valid only as a dated reference on the drawing',
};

/** Classes of ISO 13920 for lengths and angles, and for straightness, flatness and parallelism. */
export const weldmentClasses = ['A', 'B', 'C', 'D'] as const;
/** One of {@link weldmentClasses}. */
export type WeldmentClass = (typeof weldmentClasses)[number];
/** Flatness classes of ISO 13920. */
export const weldmentFlatnessClasses = ['E', 'F', 'G', 'H'] as const;
/** One of {@link weldmentFlatnessClasses}. */
export type WeldmentFlatnessClass = (typeof weldmentFlatnessClasses)[number];

const weldBounds = [30, 120, 400, 1000, 2000, 4000];
/** Symmetric deviation of a length of a weldment, m; starts at 2 mm. */
export const weldmentTolerances: Readonly<Record<WeldmentClass, readonly Step[]>> = {
  A: steps(weldBounds, [1, 1, 1, 2, 3, 4]),
  B: steps(weldBounds, [1, 2, 2, 3, 4, 6]),
  C: steps(weldBounds, [1, 3, 4, 6, 8, 11]),
  D: steps(weldBounds, [1, 4, 7, 9, 12, 16]),
};
const weldAngleBounds = [400, 1000, 4000];
/** Angles of a weldment by the shorter leg: m to rad. */
export const weldmentAngles: Readonly<Record<WeldmentClass, readonly Step[]>> = {
  A: angles(weldAngleBounds, [20, 15, 10]),
  B: angles(weldAngleBounds, [45, 30, 20]),
  C: angles(weldAngleBounds, [60, 45, 30]),
  D: angles(weldAngleBounds, [90, 75, 60]),
};
const weldFlatBounds = [30, 120, 400, 1000, 2000];
/** Straightness, flatness and parallelism by the longer side, m; starts above 30 mm. */
export const weldmentFlatness: Readonly<Record<WeldmentFlatnessClass, readonly Step[]>> = {
  E: steps(weldFlatBounds, [null, 0.5, 1, 1.5, 2]),
  F: steps(weldFlatBounds, [null, 1, 1.5, 3, 4.5]),
  G: steps(weldFlatBounds, [null, 1.5, 3, 5.5, 9]),
  H: steps(weldFlatBounds, [null, 2.5, 5, 9, 14]),
};
/** Where the three tables above come from. */
export const weldmentSource: Source = {
  document: 'ISO 13920',
  trust: 'memory',
  note: 'all rows read in an excerpt but flatness class H, which is from memory',
};
