import { along, distance, dot, scale, subtract, unit, type Vec3 } from '../../../shared/geometry/vector.ts';
import { AROUND, GAP, OPEN, SEEN, type View } from './look.ts';

/** Widest gap that is told from free space, metres (own: what a hand with a scanner misses behind a hose). */
export const WIDEST = 0.04;
/** Length of surface beside a gap from which its direction is taken, metres (own: twice a cell, so that noise turns it by a few degrees). */
const LEVER = 0.008;
/** How far the surface may turn between its sides and the line across the gap: cosine of 35 degrees (own: closes tubes and sheets, not two hoses side by side). */
const STRAIGHT = Math.cos((35 * Math.PI) / 180);

/** The widest gap so far, metres across, and its middle. */
export interface WidestGap {
  readonly width: number;
  readonly at: Vec3 | null;
}

/**
 * Marks looks that end on nothing between two sides of one surface: along a row or a column of the view, a run of open looks with scanned
 * places on both sides not more than WIDEST apart, where the surface on either side points straight across to the other.
 */
export function markGaps(view: View, widest: WidestGap): WidestGap {
  let most = widest;
  for (let row = 0; row < view.rows; row++) {
    const line = Array.from({ length: AROUND }, (_, column) => row * AROUND + column);
    most = markLine(view, { line, closed: true }, most);
  }
  for (let column = 0; column < AROUND; column++) {
    const line = Array.from({ length: view.rows }, (_, row) => row * AROUND + column);
    most = markLine(view, { line, closed: false }, most);
  }
  return most;
}

interface Line {
  /** Indices of looks, in order. */
  readonly line: readonly number[];
  /** The last is beside the first. */
  readonly closed: boolean;
}

function markLine(view: View, { line, closed }: Line, widest: WidestGap): WidestGap {
  const n = line.length;
  const at = (i: number): number => line[closed ? (i + n) % n : i] ?? -1;
  const isOpen = (i: number): boolean => view.ends[at(i)] === OPEN || view.ends[at(i)] === GAP;
  let most = widest;
  for (let start = 0; start < n; start++) {
    if (!isOpen(start) || (start === 0 && !closed) || view.ends[at(start - 1)] !== SEEN) continue;
    let end = start;
    while (end - start < n && at(end) >= 0 && isOpen(end)) end++;
    const across = bridge(side(view, at, { from: start - 1, step: -1 }), side(view, at, { from: end, step: 1 }));
    if (!across) continue;
    for (let i = start; i < end; i++) {
      view.ends[at(i)] = GAP;
      view.reaches[at(i)] = across.reach;
    }
    if (across.width > most.width) most = { width: across.width, at: across.middle };
  }
  return most;
}

interface Side {
  readonly edge: Vec3;
  /** A place of the same surface further in. */
  readonly inner: Vec3;
  readonly reach: number;
}

/** The scanned place beside a gap and one LEVER further in, when what lies between is scanned. */
function side(view: View, at: (i: number) => number, { from, step }: { from: number; step: number }): Side | null {
  const edge = view.places[at(from)];
  if (!edge || view.ends[at(from)] !== SEEN) return null;
  for (let k = 1; k <= 6; k++) {
    const inner = view.places[at(from + k * step)];
    if (!inner || view.ends[at(from + k * step)] !== SEEN) return null;
    if (distance(inner, edge) >= LEVER) return { edge, inner, reach: view.reaches[at(from)] ?? 0 };
  }
  return null;
}

function bridge(a: Side | null, b: Side | null): { width: number; middle: Vec3; reach: number } | null {
  if (!a || !b) return null;
  const width = distance(a.edge, b.edge);
  if (!(width > 0) || width > WIDEST) return null;
  const over = unit(subtract(b.edge, a.edge));
  const [into, out] = [unit(subtract(a.edge, a.inner)), unit(subtract(b.inner, b.edge))];
  if (dot(into, over) < STRAIGHT || dot(over, out) < STRAIGHT) return null;
  return { width, middle: scale(along(a.edge, b.edge, 1), 0.5), reach: (a.reach + b.reach) / 2 };
}
