import { sideOf, sureSide, turnOf, widestDrop } from './exactSide.ts';
import { sidesPart } from './sureParting.ts';

/* Exact tests between triangles that are given by offsets of their corners in one array of coordinates. Touching counts as crossing. */

/** Three offsets of corners. */
type Corners = readonly [number, number, number];

/**
 * Whether two triangles have a point in common. Both must have area.
 * Source: Guigue and Devillers 2003, with exact signs (memory).
 */
export function trianglesMeet(p: Float64Array, s: Corners, t: Corners): boolean {
  const side = sureSides(p, t, s);
  if (side === ONE_SIDE) return false;
  const facing = sureSides(p, s, t);
  if (facing === ONE_SIDE) return false;
  // Flat ground: exact sums would all be zero, and cost most.
  if ((side === UNSURE || facing === UNSURE) && sidesPart(p, s, t)) return false;
  return meetExactly(p, s, t);
}

/** How the corners of a triangle lie to the plane of another, as far as plain sums tell. */
const [ONE_SIDE, BOTH_SIDES, UNSURE] = [0, 1, 2];

function sureSides(p: Float64Array, plane: Corners, t: Corners): number {
  const a = sureSide(p, plane[0], plane[1], plane[2], t[0]);
  const b = sureSide(p, plane[0], plane[1], plane[2], t[1]);
  const c = sureSide(p, plane[0], plane[1], plane[2], t[2]);
  if (a === 0 || b === 0 || c === 0) return UNSURE;
  return a === b && b === c ? ONE_SIDE : BOTH_SIDES;
}

function meetExactly(p: Float64Array, s: Corners, t: Corners): boolean {
  const [p1, q1, r1] = s;
  const [p2, q2, r2] = t;
  const dp1 = sideOf(p, p2, q2, r2, p1);
  const dq1 = sideOf(p, p2, q2, r2, q1);
  const dr1 = sideOf(p, p2, q2, r2, r1);
  if (dp1 * dq1 > 0 && dp1 * dr1 > 0) return false;
  const dp2 = sideOf(p, p1, q1, r1, p2);
  const dq2 = sideOf(p, p1, q1, r1, q2);
  const dr2 = sideOf(p, p1, q1, r1, r2);
  if (dp2 * dq2 > 0 && dp2 * dr2 > 0) return false;
  if (dp1 === 0 && dq1 === 0 && dr1 === 0) return coplanarMeet(p, s, t);
  const lone = loneCorner(dp1, dq1, dr1);
  const first = rolled(s, lone.at);
  const far = loneCorner(dp2, dq2, dr2);
  const second = rolled(t, far.at);
  // Each lone corner is brought to the positive side of the other plane by turning the other triangle round.
  const [b, c] = lone.side > 0 ? [second[1], second[2]] : [second[2], second[1]];
  const [e, f] = far.side > 0 ? [first[1], first[2]] : [first[2], first[1]];
  return intervalsMeet(p, [first[0], e, f], [second[0], b, c]);
}

/**
 * The corner that is alone on its side of a plane (a corner on the plane counts to the side that leaves one alone), and that side.
 * Not called with three zeros.
 */
function loneCorner(d0: number, d1: number, d2: number): { readonly at: 0 | 1 | 2; readonly side: number } {
  if (d0 > 0) return d1 > 0 ? { at: 2, side: -1 } : d2 > 0 ? { at: 1, side: -1 } : { at: 0, side: 1 };
  if (d0 < 0) return d1 < 0 ? { at: 2, side: 1 } : d2 < 0 ? { at: 1, side: 1 } : { at: 0, side: -1 };
  if (d1 < 0) return d2 >= 0 ? { at: 1, side: -1 } : { at: 0, side: 1 };
  if (d1 > 0) return d2 > 0 ? { at: 0, side: -1 } : { at: 1, side: 1 };
  return { at: 2, side: d2 };
}

/** The same triangle beginning with another corner. */
const rolled = (t: Corners, first: 0 | 1 | 2): Corners =>
  first === 0 ? t : first === 1 ? [t[1], t[2], t[0]] : [t[2], t[0], t[1]];

/** Both triangles cut the line of the two planes; do their stretches of it overlap? */
function intervalsMeet(p: Float64Array, s: Corners, t: Corners): boolean {
  return sideOf(p, t[0], s[0], s[1], t[1]) <= 0 && sideOf(p, t[0], s[2], s[0], t[2]) <= 0;
}

/** Whether the segment from a to b meets a triangle with area. */
export function segmentMeets(p: Float64Array, a: number, b: number, t: Corners): boolean {
  const [sa, sb] = [sideOf(p, t[0], t[1], t[2], a), sideOf(p, t[0], t[1], t[2], b)];
  if (sa * sb > 0) return false;
  if (sa === 0 && sb === 0) {
    const drop = widestDrop(p, t[0], t[1], t[2]);
    for (let k = 0; k < 3; k++) if (segmentsMeet(p, drop, [a, b], [t[k] ?? 0, t[(k + 1) % 3] ?? 0])) return true;
    return within(p, drop, t, a);
  }
  const u = sideOf(p, t[0], t[1], b, a);
  const v = sideOf(p, t[1], t[2], b, a);
  const w = sideOf(p, t[2], t[0], b, a);
  return (u >= 0 && v >= 0 && w >= 0) || (u <= 0 && v <= 0 && w <= 0);
}

/** Whether two triangles on a common edge g h, with their third corners x and y, lie on top of each other. */
export function foldedOver(p: Float64Array, edge: readonly [number, number], x: number, y: number): boolean {
  const [g, h] = edge;
  // The turns first: of most neighbours they say that the two lie on either side of the edge, and cost less than the exact plane.
  const drop = widestDrop(p, g, h, x);
  return turnOf(p, drop, g, h, x) * turnOf(p, drop, g, h, y) > 0 && sideOf(p, g, h, x, y) === 0;
}

function coplanarMeet(p: Float64Array, s: Corners, t: Corners): boolean {
  const drop = widestDrop(p, s[0], s[1], s[2]);
  for (let i = 0; i < 3; i++) {
    const side = [s[i] ?? 0, s[(i + 1) % 3] ?? 0] as const;
    for (let j = 0; j < 3; j++) if (segmentsMeet(p, drop, side, [t[j] ?? 0, t[(j + 1) % 3] ?? 0])) return true;
  }
  return within(p, drop, s, t[0]) || within(p, drop, t, s[0]);
}

type Side = readonly [number, number];

function segmentsMeet(p: Float64Array, drop: number, [a, b]: Side, [c, d]: Side): boolean {
  const [sc, sd] = [turnOf(p, drop, a, b, c), turnOf(p, drop, a, b, d)];
  const [sa, sb] = [turnOf(p, drop, c, d, a), turnOf(p, drop, c, d, b)];
  if (sc * sd < 0 && sa * sb < 0) return true;
  return (
    (sc === 0 && between(p, drop, [a, b], c)) ||
    (sd === 0 && between(p, drop, [a, b], d)) ||
    (sa === 0 && between(p, drop, [c, d], a)) ||
    (sb === 0 && between(p, drop, [c, d], b))
  );
}

/** Whether a point in line with a segment is on it. */
function between(p: Float64Array, drop: number, [a, b]: Side, c: number): boolean {
  for (let k = 0; k < 3; k++) {
    if (k === drop) continue;
    const [from, to, x] = [p[a + k] ?? 0, p[b + k] ?? 0, p[c + k] ?? 0];
    if (x < Math.min(from, to) || x > Math.max(from, to)) return false;
  }
  return true;
}

function within(p: Float64Array, drop: number, t: Corners, point: number): boolean {
  const u = turnOf(p, drop, t[0], t[1], point);
  const v = turnOf(p, drop, t[1], t[2], point);
  const w = turnOf(p, drop, t[2], t[0], point);
  return (u >= 0 && v >= 0 && w >= 0) || (u <= 0 && v <= 0 && w <= 0);
}
