import type { Vec3 } from './vector.ts';
import { add, along, scale } from './vector.ts';

/** A straight part of a centreline. Lengths in metres, direction of unit length. */
export interface LinePiece {
  readonly kind: 'line';
  readonly start: Vec3;
  readonly direction: Vec3;
  readonly length: number;
  /** Distance along the centreline at which this piece begins. */
  readonly s0: number;
}

/**
 * A circular part of a centreline: centre + radius (cos(a) u + sin(a) v) for a from 0 to angle.
 * u points from the centre to the start, v is the direction of travel there. Metres and radians, 0 < angle < pi.
 */
export interface ArcPiece {
  readonly kind: 'arc';
  readonly centre: Vec3;
  readonly start: Vec3;
  readonly u: Vec3;
  readonly v: Vec3;
  readonly radius: number;
  readonly angle: number;
  /** radius times angle. */
  readonly length: number;
  /** Distance along the centreline at which this piece begins. */
  readonly s0: number;
}

/** One exact part of a centreline. */
export type Piece = LinePiece | ArcPiece;

/** In-plane mix cos(a) u + sin(a) v of an arc's two unit vectors: the way out from the centre at angle a. */
function outward({ u, v }: ArcPiece, a: number): Vec3 {
  const [c, s] = [Math.cos(a), Math.sin(a)];
  return [u[0] * c + v[0] * s, u[1] * c + v[1] * s, u[2] * c + v[2] * s];
}

/** The point at distance t (metres) from the start of a piece. Not clamped: t outside 0..length continues the line or circle. */
export function pointOnPiece(piece: Piece, t: number): Vec3 {
  if (piece.kind === 'line') return along(piece.start, piece.direction, t);
  return along(piece.centre, outward(piece, t / piece.radius), piece.radius);
}

/** The unit direction of travel at distance t (metres) from the start of a piece. */
export function tangentOnPiece(piece: Piece, t: number): Vec3 {
  if (piece.kind === 'line') return piece.direction;
  const a = t / piece.radius;
  return add(scale(piece.u, -Math.sin(a)), scale(piece.v, Math.cos(a)));
}

/**
 * The part of a piece between two distances from its own start (metres, 0 <= from < to <= length).
 * It keeps the numbering along the centreline: its s0 is the old s0 plus from.
 */
export function clipPiece(piece: Piece, from: number, to: number): Piece {
  if (from <= 0 && to >= piece.length) return piece;
  const [start, length, s0] = [pointOnPiece(piece, from), to - from, piece.s0 + from];
  if (piece.kind === 'line') return { kind: 'line', start, direction: piece.direction, length, s0 };
  const { centre, radius } = piece;
  const [u, v] = [outward(piece, from / radius), tangentOnPiece(piece, from)];
  return { kind: 'arc', centre, start, u, v, radius, angle: length / radius, length, s0 };
}
