import { type Known, known } from '../../units/known.ts';
import { contradiction, type Limit, outsideLimits } from '../limits.ts';

/** A branch tube that meets a main tube; m and rad. */
export interface Cope {
  /** R, outer radius of the main. */
  readonly mainRadius: number;
  /** Outer and inner radius of the branch. */
  readonly outerRadius: number;
  readonly innerRadius: number;
  /** theta between the axes. */
  readonly angle: number;
  /** e, distance between the axes, towards the side phi = 90 degrees. */
  readonly offset: number;
}

const limits: Readonly<Record<keyof Cope, Limit>> = {
  mainRadius: ['length', 1e-3, 1],
  outerRadius: ['length', 1e-3, 1],
  innerRadius: ['length', 5e-4, 1],
  angle: ['angle', 0.1, Math.PI / 2 + 1e-12],
  offset: ['length', -1, 1],
};

function fault(cope: Cope) {
  const refused = outsideLimits('cope', cope, limits);
  if (refused) return refused;
  const { mainRadius, outerRadius, innerRadius, offset } = cope;
  if (innerRadius >= outerRadius)
    return contradiction(`cope: expected an inner radius below the outer one (${outerRadius} m), got ${innerRadius} m`);
  // A hair over is rounding of equal diameters.
  if (Math.abs(offset) + outerRadius > mainRadius * (1 + 1e-9))
    return contradiction(
      `cope: expected the branch inside the main (|offset| + radius <= ${mainRadius} m), got ${Math.abs(offset) + outerRadius} m`,
    );
  return null;
}

/** Distance along the branch of the cut through radius `r` at `phi` round it, from the plane through the common perpendicular. */
function depth(cope: Cope, r: number, phi: number): number {
  const across = cope.offset + r * Math.sin(phi);
  const root = Math.sqrt(Math.max(0, cope.mainRadius ** 2 - across ** 2));
  return (root - r * Math.cos(phi) * Math.cos(cope.angle)) / Math.sin(cope.angle);
}

/** Cut depth at the outer and inner wall and the governing one of a square-walled cut (the larger: nothing digs in), m. */
export interface CopeDepth {
  readonly outer: number;
  readonly inner: number;
  readonly governing: number;
}

/** Cope at `phi` (rad, 0 on the side the branch leans away from). Source: own derivation, checked by intersecting rays with the cylinder. */
export function copeDepth(cope: Cope, phi: number): Known<CopeDepth> {
  const wrong = fault(cope);
  if (wrong) return wrong;
  if (!Number.isFinite(phi)) return contradiction(`cope: expected a finite angle round the branch, got ${phi}`);
  const outer = depth(cope, cope.outerRadius, phi);
  const inner = depth(cope, cope.innerRadius, phi);
  return known({ outer, inner, governing: Math.max(outer, inner) });
}

/** Paper template: rows of [distance round the wrapping radius, height above the lowest point], m; `points` 4 to 3600. */
export function copeTemplate(cope: Cope, points: number, paper = 0): Known<readonly (readonly [number, number])[]> {
  const wrong = fault(cope) ?? outsideLimits('cope-template', { points, paper }, templateLimits);
  if (wrong) return wrong;
  const wrapped = cope.outerRadius + paper / 2;
  const angles = Array.from({ length: Math.floor(points) + 1 }, (_, i) => (2 * Math.PI * i) / Math.floor(points));
  const cuts = angles.map((phi) => Math.max(depth(cope, cope.outerRadius, phi), depth(cope, cope.innerRadius, phi)));
  const lowest = Math.min(...cuts);
  return known(cuts.map((cut, i): readonly [number, number] => [wrapped * (angles[i] ?? 0), cut - lowest]));
}

const templateLimits: Readonly<Record<'points' | 'paper', Limit>> = {
  points: ['count', 4, 3600],
  paper: ['length', 0, 2e-3],
};

/** Outline of the hole in the main tube: [along the main axis, across it], m, at `points` angles round the branch bore. */
export function copeHole(cope: Cope, points: number): Known<readonly (readonly [number, number])[]> {
  const wrong = fault(cope) ?? outsideLimits('cope-hole', { points, paper: 0 }, templateLimits);
  if (wrong) return wrong;
  const r = cope.innerRadius;
  const outline = Array.from({ length: Math.floor(points) }, (_, i): readonly [number, number] => {
    const phi = (2 * Math.PI * i) / Math.floor(points);
    const along = depth(cope, r, phi) * Math.cos(cope.angle) - r * Math.cos(phi) * Math.sin(cope.angle);
    return [along, cope.offset + r * Math.sin(phi)];
  });
  return known(outline);
}
