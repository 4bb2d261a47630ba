import { type Known, known } from '../../units/known.ts';
import { contradiction } from '../limits.ts';
import { along, dot, minus, size, type Triple, unit } from './direction.ts';

/** A circular arc; m and rad. Radius Infinity and angle 0 is a straight. */
export interface Arc {
  readonly radius: number;
  readonly angle: number;
  readonly length: number;
}
/** Two arcs with a common tangent at `joint`; `arm` is the tangent length they share, m. */
export interface Biarc {
  readonly arm: number;
  readonly joint: Triple;
  readonly arcs: readonly [Arc, Arc];
}

/** Arc from `from` with unit tangent `tangent` to `to`. */
function arcTo(from: Triple, tangent: Triple, to: Triple): Arc {
  const chord = minus(to, from);
  const ahead = dot(chord, tangent);
  const aside = size(along(chord, tangent, -ahead));
  if (aside < 1e-12 * size(chord) && ahead > 0) return { radius: Number.POSITIVE_INFINITY, angle: 0, length: ahead };
  const radius = dot(chord, chord) / (2 * aside);
  const angle = 2 * Math.atan2(aside, ahead);
  return { radius, angle, length: radius * angle };
}

/**
 * Biarc with equal arms from `start` with tangent `startTangent` to `end` with tangent `endTangent`; works in space, each arc in its own plane.
 * Equal points or zero tangents are inconsistent. Source: biarc construction (idea from memory), formula checked numerically.
 */
export function biarc(start: Triple, startTangent: Triple, end: Triple, endTangent: Triple): Known<Biarc> {
  const [first, second] = [unit(startTangent), unit(endTangent)];
  const across = minus(end, start);
  if (![...first, ...second, ...across].every(Number.isFinite) || size(across) === 0)
    return contradiction('biarc: expected two points apart and two tangents that are not zero');
  const both = along(first, second, 1);
  const turn = 2 * (1 - dot(first, second));
  const lean = dot(across, both);
  const reach = dot(across, across);
  const arm = turn < 1e-12 ? reach / (4 * dot(across, second)) : (Math.sqrt(lean ** 2 + turn * reach) - lean) / turn;
  if (!(Number.isFinite(arm) && arm > 0))
    return contradiction(`biarc: expected tangents that lead to each other, got an arm of ${arm} m`);
  const middle = along(along(start, end, 1), minus(first, second), arm);
  const joint = along([0, 0, 0], middle, 0.5);
  const backwards = along([0, 0, 0], second, -1);
  return known({ arm, joint, arcs: [arcTo(start, first, joint), arcTo(end, backwards, joint)] });
}
