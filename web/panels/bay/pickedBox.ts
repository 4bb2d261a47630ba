import type { Vec3 } from '../../../shared/geometry/vector.ts';

/** How far the box stands off what was pointed at, metres (own: points that were not hit by a little stay in). */
const MARGIN = 0.01;
/** A millimetre: what is typed by hand. */
const STEPS = 1000;

/** A box round places that were pointed at; undefined for none. */
export function pickedBox(places: readonly Vec3[]): { readonly least: Vec3; readonly greatest: Vec3 } | undefined {
  if (places.length === 0) return undefined;
  const side = (k: 0 | 1 | 2, out: -1 | 1): number => {
    const farthest = Math.max(...places.map((p) => out * p[k])) + MARGIN;
    return (out * Math.ceil(farthest * STEPS - 1e-6)) / STEPS;
  };
  return { least: [side(0, -1), side(1, -1), side(2, -1)], greatest: [side(0, 1), side(1, 1), side(2, 1)] };
}
