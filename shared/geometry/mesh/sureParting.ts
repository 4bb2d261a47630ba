import { widestDrop } from './exactSide.ts';

/*
 * Says at once of most pairs of neighbours that they do not cross, above all on flat ground, where exact tests cost most. True is certain;
 * false only says that the exact tests must decide.
 */

/** Bound on the rounding of a turn in the plane, relative to the sum of its parts. Source: Shewchuk 1997, (3 + 16 e) e, rounded up (memory). */
const ROUNDING = 4e-16;
/** Below this products of lengths in metres are no longer rounded to a share of themselves. Own. */
const TINY = 1e-290;

/** How two directions turn: 1 anticlockwise, -1 clockwise, 0 when rounding may have decided. */
function sureTurn(ax: number, ay: number, bx: number, by: number): number {
  const left = ax * by;
  const right = ay * bx;
  const bound = ROUNDING * (Math.abs(left) + Math.abs(right)) + TINY;
  const turn = left - right;
  return turn > bound ? 1 : turn < -bound ? -1 : 0;
}

/**
 * Whether two triangles that share one corner surely have no more than that in common: seen along one axis, a side of one that begins there
 * has the other triangle wholly beyond it. Such a line exists whenever the two corners do not overlap in that view.
 * @param p coordinates
 * @param fan offsets: the shared corner, the other two of the one triangle, the other two of the other
 */
export function fanParted(p: Float64Array, fan: Int32Array): boolean {
  const v = fan[0] ?? 0;
  const a = fan[1] ?? 0;
  const b = fan[2] ?? 0;
  const drop = widestDrop(p, v, a, b);
  const i = drop === 0 ? 1 : 0;
  const j = drop === 2 ? 1 : 2;
  const c = fan[3] ?? 0;
  const d = fan[4] ?? 0;
  const x = p[v + i] ?? 0;
  const y = p[v + j] ?? 0;
  const ax = (p[a + i] ?? 0) - x;
  const ay = (p[a + j] ?? 0) - y;
  const bx = (p[b + i] ?? 0) - x;
  const by = (p[b + j] ?? 0) - y;
  const cx = (p[c + i] ?? 0) - x;
  const cy = (p[c + j] ?? 0) - y;
  const dx = (p[d + i] ?? 0) - x;
  const dy = (p[d + j] ?? 0) - y;
  const one = sureTurn(ax, ay, bx, by);
  if (one === 0) return false;
  const ac = sureTurn(ax, ay, cx, cy);
  const ad = sureTurn(ax, ay, dx, dy);
  if (ac === -one && ad === -one) return true;
  const bc = sureTurn(bx, by, cx, cy);
  const bd = sureTurn(bx, by, dx, dy);
  if (bc === one && bd === one) return true;
  const other = sureTurn(cx, cy, dx, dy);
  if (other === 0) return false;
  return (ac === other && bc === other) || (ad === -other && bd === -other);
}

/** Whether a side of one of two triangles, seen along one axis, surely has the other wholly beyond it. Offsets of corners. */
export function sidesPart(p: Float64Array, s: ArrayLike<number>, t: ArrayLike<number>): boolean {
  const drop = widestDrop(p, s[0] ?? 0, s[1] ?? 0, s[2] ?? 0);
  return oneSideParts(p, drop, s, t) || oneSideParts(p, drop, t, s);
}

function oneSideParts(p: Float64Array, drop: 0 | 1 | 2, s: ArrayLike<number>, t: ArrayLike<number>): boolean {
  for (let k = 0; k < 3; k++) {
    const a = s[k] ?? 0;
    const b = s[(k + 1) % 3] ?? 0;
    const own = turnAt(p, drop, [a, b], s[(k + 2) % 3] ?? 0);
    if (own === 0) return false;
    let beyond = 0;
    while (beyond < 3 && turnAt(p, drop, [a, b], t[beyond] ?? 0) === -own) beyond++;
    if (beyond === 3) return true;
  }
  return false;
}

function turnAt(p: Float64Array, drop: 0 | 1 | 2, side: readonly [number, number], c: number): number {
  const i = drop === 0 ? 1 : 0;
  const j = drop === 2 ? 1 : 2;
  const x = p[c + i] ?? 0;
  const y = p[c + j] ?? 0;
  const a = side[0];
  const b = side[1];
  return sureTurn((p[a + i] ?? 0) - x, (p[a + j] ?? 0) - y, (p[b + i] ?? 0) - x, (p[b + j] ?? 0) - y);
}
