import type { ArcPiece, LinePiece, Piece } from './piece.ts';
import type { Vec3 } from './vector.ts';
import { along, cross, dot, norm, subtract } from './vector.ts';

/** Two axes count as parallel when treating them so moves no point of the arcs by more than this, metres (own: a tenth of the tolerance). */
const PARALLEL_SLACK = 1e-7;

/**
 * For two pieces about parallel axes, the distances along `a` (metres from its start) among whose feet on `b` the nearest pair is to be
 * found, together with the ends of `b`. Such pieces can be equally far apart all along, where halving them finds no end: two runners of
 * one shape side by side. Seen along the axis they are circles and points in a plane, whose nearest places have closed forms.
 * @returns undefined when the pieces have no parallel axes; a straight counts when it is parallel to the axis of the arc
 */
export function parallelCandidates(a: Piece, b: Piece): readonly number[] | undefined {
  if (a.kind === 'line') return b.kind === 'arc' && isAlongAxis(a, b) ? [crossing(a, b)] : undefined;
  if (b.kind === 'line') return isAlongAxis(b, a) ? [0, a.length, angleTo(a, b.start) * a.radius] : undefined;
  const tilt = norm(cross(axisOf(a), axisOf(b)));
  if (tilt * (a.radius + b.radius) > PARALLEL_SLACK) return undefined;
  const middle = angleTo(a, b.centre);
  const angles = [middle, middle + Math.PI];
  const half = halfAngleOfMeeting(a, b);
  if (half !== undefined) angles.push(middle + half, middle - half);
  return [0, a.length, ...angles.map((angle) => a.radius * angle)];
}

const axisOf = (arc: ArcPiece): Vec3 => cross(arc.u, arc.v);

const isAlongAxis = (line: LinePiece, arc: ArcPiece): boolean =>
  norm(cross(line.direction, axisOf(arc))) * Math.max(line.length, arc.radius) <= PARALLEL_SLACK;

/** Where a straight along the axis passes the plane of the arc, or comes nearest to it. */
function crossing(line: LinePiece, arc: ArcPiece): number {
  const axis = axisOf(arc);
  const t = dot(subtract(arc.centre, line.start), axis) / dot(line.direction, axis);
  return Math.min(Math.max(t, 0), line.length);
}

/** Angle on the arc's circle, from its start, of the way from its centre to a place. */
function angleTo(arc: ArcPiece, place: Vec3): number {
  const way = subtract(place, arc.centre);
  return Math.atan2(dot(way, arc.v), dot(way, arc.u));
}

/** Seen along the axis, how far from the line of centres the two circles cross, as an angle on a; undefined when they do not. */
function halfAngleOfMeeting(a: ArcPiece, b: ArcPiece): number | undefined {
  const way = subtract(b.centre, a.centre);
  const axis = axisOf(a);
  const apart = norm(along(way, axis, -dot(way, axis)));
  const cosine = (a.radius ** 2 + apart ** 2 - b.radius ** 2) / (2 * a.radius * apart);
  return Math.abs(cosine) <= 1 ? Math.acos(cosine) : undefined;
}

/** A distance along an arc brought into its length by whole turns of its circle; undefined when it lies off the arc. */
export function onPiece(piece: Piece, t: number): number | undefined {
  const turn = piece.kind === 'arc' ? 2 * Math.PI * piece.radius : 0;
  for (const there of [t, t + turn, t - turn]) if (there >= 0 && there <= piece.length) return there;
  return undefined;
}
