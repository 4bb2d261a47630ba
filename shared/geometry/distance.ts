import type { Centreline } from './centreline.ts';
import { piecesBetween } from './centreline.ts';
import { onPiece, parallelCandidates } from './parallel.ts';
import type { Piece } from './piece.ts';
import { pointOnPiece } from './piece.ts';
import type { Vec3 } from './vector.ts';
import { along, cross, distance, dot, subtract } from './vector.ts';

/** The nearest place on a centreline to a point: distance along the centreline (s) and from the point, metres. */
export interface Foot {
  readonly s: number;
  readonly point: Vec3;
  readonly distance: number;
}

/**
 * Exact nearest place on one piece, its ends included (closed form for straights and arcs).
 * A point on the axis of an arc is equally far from all of it; its start is given then.
 */
export function footOnPiece(piece: Piece, p: Vec3): Foot {
  const t = piece.kind === 'line' ? dot(subtract(p, piece.start), piece.direction) : arcParameter(piece, p);
  const clamped = Math.min(Math.max(t, 0), piece.length);
  const point = pointOnPiece(piece, clamped);
  return { s: piece.s0 + clamped, point, distance: distance(p, point) };
}

/** Distance along an arc's circle of the foot of p, with places off the arc sent to the nearer end. */
function arcParameter(arc: Extract<Piece, { kind: 'arc' }>, p: Vec3): number {
  const d = subtract(p, arc.centre);
  const angle = Math.atan2(dot(d, arc.v), dot(d, arc.u));
  // Below zero and beyond the end are one gap on the circle: its middle divides the two ends.
  const middleOfGap = arc.angle / 2 - Math.PI;
  return arc.radius * (angle < middleOfGap ? angle + 2 * Math.PI : angle);
}

/** Exact nearest place on a list of pieces. Undefined for an empty list. */
export function footOnPieces(pieces: readonly Piece[], p: Vec3): Foot | undefined {
  let best: Foot | undefined;
  for (const piece of pieces) {
    const foot = footOnPiece(piece, p);
    if (!best || foot.distance < best.distance) best = foot;
  }
  return best;
}

/** Exact nearest place on a whole centreline. Undefined only for a centreline without pieces. */
export const footOnCentreline = (line: Centreline, p: Vec3): Foot | undefined => footOnPieces(line.pieces, p);

/** The part of a centreline to look at, distances along it in metres; left out means from the start, to the end. */
export interface Limits {
  readonly fromS?: number;
  readonly toS?: number;
}

/** Smallest distance between two centrelines (metres) and where: distance along each, and the point on each. */
export interface TubeDistance {
  readonly distance: number;
  readonly sA: number;
  readonly sB: number;
  readonly pointA: Vec3;
  readonly pointB: Vec3;
}

/** The most by which tubeToTube may overstate the smallest distance, metres (own: a hundredth of a scan's noise). */
export const TUBE_DISTANCE_TOLERANCE = 1e-6;

/**
 * Smallest distance between two centrelines. Two tubes are this far apart less both outer radii, counting round ends at the limits.
 * Branch and bound over halved arcs: every pair left out is proved farther than the answer less TUBE_DISTANCE_TOLERANCE, and the
 * distance given is that of the two points given, so it is never too small. Straight against straight is exact, and so are arcs about
 * parallel axes, as in runners of one shape side by side.
 * @returns undefined when the limits leave nothing of one of them
 */
export function tubeToTube(
  a: Centreline,
  b: Centreline,
  limits: { readonly a?: Limits; readonly b?: Limits } = {},
): TubeDistance | undefined {
  const [spansA, spansB] = [spansOf(a, limits.a), spansOf(b, limits.b)];
  const pairs: { readonly a: Span; readonly b: Span; readonly bound: number }[] = [];
  for (const spanA of spansA) {
    for (const spanB of spansB) pairs.push({ a: spanA, b: spanB, bound: ballBound(spanA, spanB) });
  }
  pairs.sort((p, q) => p.bound - q.bound);
  const search: Search = { best: undefined, limit: Number.POSITIVE_INFINITY };
  for (const pair of pairs) {
    if (pair.bound >= search.limit) break;
    if (!settleParallel(pair.a.piece, pair.b.piece, search)) descend(pair.a, pair.b, search);
  }
  return search.best;
}

/** A stretch of one piece with its chord, the middle and half length of that, and how far the piece bulges from it. */
interface Span {
  readonly piece: Piece;
  readonly from: number;
  readonly to: number;
  readonly start: Vec3;
  readonly end: Vec3;
  readonly middle: Vec3;
  readonly half: number;
  readonly bulge: number;
}

interface Search {
  best: TubeDistance | undefined;
  /** Pairs that cannot come below this are of no interest. */
  limit: number;
}

function spanOf(stretch: Pick<Span, 'piece' | 'from' | 'to' | 'start' | 'end'>): Span {
  const { piece, from, to, start, end } = stretch;
  const bulge = piece.kind === 'line' ? 0 : piece.radius * (1 - Math.cos((to - from) / (2 * piece.radius)));
  const middle: Vec3 = [(start[0] + end[0]) / 2, (start[1] + end[1]) / 2, (start[2] + end[2]) / 2];
  return { piece, from, to, start, end, middle, half: distance(start, end) / 2, bulge };
}

const spansOf = (line: Centreline, { fromS = 0, toS = line.length }: Limits = {}): Span[] =>
  piecesBetween(line, fromS, toS).map((piece) =>
    spanOf({ piece, from: 0, to: piece.length, start: piece.start, end: pointOnPiece(piece, piece.length) }),
  );

/** No two points of the spans are nearer than this: an arc below a half turn lies in the ball on its chord (Thales). */
const ballBound = (a: Span, b: Span): number => distance(a.middle, b.middle) - a.half - b.half;

function descend(a: Span, b: Span, search: Search): void {
  const near = nearestOfChords(a, b);
  if (near.distance - a.bulge - b.bulge >= search.limit) return;
  offer(a, b, { near, search });
  if (near.distance - a.bulge - b.bulge >= search.limit) return;
  // Halving the one that bulges more shrinks the doubt fastest; a straight never bulges and is never cut.
  const wide = a.bulge >= b.bulge ? a : b;
  if (wide.bulge === 0) return;
  const [first, second] = halve(wide);
  const [near1, near2] =
    wide === a ? [ballBound(first, b), ballBound(second, b)] : [ballBound(a, first), ballBound(a, second)];
  // The nearer half first: what it finds may spare the other.
  for (const half of near1 <= near2 ? [first, second] : [second, first]) {
    if ((half === first ? near1 : near2) >= search.limit) continue;
    if (wide === a) descend(half, b, search);
    else descend(a, half, search);
  }
}

function halve({ piece, from, to, start, end }: Span): readonly [Span, Span] {
  const middle = (from + to) / 2;
  const point = pointOnPiece(piece, middle);
  return [
    spanOf({ piece, from, to: middle, start, end: point }),
    spanOf({ piece, from: middle, to, start: point, end }),
  ];
}

/** Takes the true points under the chords' nearest places as an answer if they beat the best so far. */
function offer(a: Span, b: Span, at: { readonly near: ChordPair; readonly search: Search }): void {
  const { near, search } = at;
  const onA = placeOn(a.piece, a.from + near.onA * (a.to - a.from));
  // Straight against straight: the chords are the pieces. Else the exact foot of one true point is at least as good.
  const exact = a.bulge === 0 && b.bulge === 0;
  const onB = exact ? placeOn(b.piece, b.from + near.onB * (b.to - b.from)) : footOnPiece(b.piece, onA.point);
  take(onA, onB, search);
}

/** Pieces about parallel axes: the nearest pair in closed form. False for any others. */
function settleParallel(a: Piece, b: Piece, search: Search): boolean {
  const candidates = parallelCandidates(a, b);
  if (!candidates) return false;
  for (const candidate of candidates) {
    const t = onPiece(a, candidate);
    if (t === undefined) continue;
    const onA = placeOn(a, t);
    take(onA, footOnPiece(b, onA.point), search);
  }
  for (const t of [0, b.length]) {
    const onB = placeOn(b, t);
    take(footOnPiece(a, onB.point), onB, search);
  }
  return true;
}

interface Place {
  readonly s: number;
  readonly point: Vec3;
}

const placeOn = (piece: Piece, t: number): Place => ({ s: piece.s0 + t, point: pointOnPiece(piece, t) });

function take(onA: Place, onB: Place, search: Search): void {
  const between = distance(onA.point, onB.point);
  if (search.best && between >= search.best.distance) return;
  search.best = { distance: between, sA: onA.s, sB: onB.s, pointA: onA.point, pointB: onB.point };
  search.limit = between - TUBE_DISTANCE_TOLERANCE;
}

interface ChordPair {
  readonly distance: number;
  /** Fractions 0..1 along each chord. */
  readonly onA: number;
  readonly onB: number;
}

const clamp01 = (x: number): number => Math.min(Math.max(x, 0), 1);

/** Nearest places of two straight segments, parallel and zero-length ones included (textbook closed form, memory). */
function nearestOfChords(a: Span, b: Span): ChordPair {
  const [u, v, w] = [subtract(a.end, a.start), subtract(b.end, b.start), subtract(a.start, b.start)];
  const [uu, vv, uv, uw, vw] = [dot(u, u), dot(v, v), dot(u, v), dot(u, w), dot(v, w)];
  // Straight from the cross product: uu vv - uv^2 loses all digits for nearly parallel chords.
  const n = cross(u, v);
  const skew = dot(n, n);
  let onA = skew > 1e-18 * uu * vv ? clamp01(dot(cross(v, w), n) / skew) : 0;
  let onB = vv > 0 ? (uv * onA + vw) / vv : 0;
  if (onB < 0 || onB > 1) {
    onB = clamp01(onB);
    onA = uu > 0 ? clamp01((uv * onB - uw) / uu) : 0;
  }
  return { distance: distance(along(a.start, u, onA), along(b.start, v, onB)), onA, onB };
}
