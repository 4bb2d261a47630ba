import { along, distance, dot, scale, subtract, unit, type Vec3 } from '../../../shared/geometry/vector.ts';
import { CELL } from './cells.ts';
import { AROUND, GAP, OPEN, SEEN, type View } from './look.ts';

/** Widest gap that is told from free space, metres (own: what a hand with a scanner misses behind a hose). */
export const WIDEST = 0.04;
/** Narrowest gap, metres (own: two and a half cells; below that a look may have slipped between two cells with points). */
export const NARROWEST = 2.5 * CELL;
/** Length of surface beside a gap from which its direction is taken, metres (own: twice a cell, so that noise turns it by a few degrees). */
const LEVER = 2 * CELL;
/** How far the surface may turn between its sides and the line across the gap: cosine of 35 degrees (own: closes tubes and sheets, not two hoses side by side). */
const STRAIGHT = Math.cos((35 * Math.PI) / 180);

/** The widest gap so far, metres across, and its middle. */
export interface WidestGap {
  readonly width: number;
  readonly at: Vec3 | null;
}

/**
 * Marks looks that end on nothing between two sides of one surface: along a row or a column of the view, a run of open looks with scanned
 * places on both sides from NARROWEST to WIDEST apart, where the surface on either side points straight across to the other. Narrower runs
 * count as scanned.
 */
export function markGaps(view: View, widest: WidestGap): WidestGap {
  const lines = [...rowsOf(view), ...columnsOf(view)];
  for (const line of lines) markLine(view, line, { over: 0, upTo: NARROWEST, end: SEEN });
  let most = widest;
  for (const line of lines) {
    const found = markLine(view, line, { over: NARROWEST, upTo: WIDEST, end: GAP });
    if (found.width > most.width) most = found;
  }
  return most;
}

interface Line {
  /** Indices of looks, in order. */
  readonly line: readonly number[];
  /** The last is beside the first. */
  readonly closed: boolean;
}

const rowsOf = ({ rows }: View): Line[] =>
  Array.from({ length: rows }, (_, row) => ({
    line: Array.from({ length: AROUND }, (_, column) => row * AROUND + column),
    closed: true,
  }));

const columnsOf = ({ rows }: View): Line[] =>
  Array.from({ length: AROUND }, (_, column) => ({
    line: Array.from({ length: rows }, (_, row) => row * AROUND + column),
    closed: false,
  }));

/** What runs of which width are marked as. */
interface Mark {
  readonly over: number;
  readonly upTo: number;
  readonly end: number;
}

/** Marks the runs of a line; gives the widest marked. */
function markLine(view: View, { line, closed }: Line, mark: Mark): WidestGap {
  const n = line.length;
  const at = (i: number): number => line[closed ? (i + n) % n : i] ?? -1;
  const isOpen = (i: number): boolean => view.ends[at(i)] === OPEN || view.ends[at(i)] === GAP;
  let most: WidestGap = { width: 0, at: null };
  for (let start = 0; start < n; start++) {
    if (!isOpen(start) || view.ends[at(start - 1)] !== SEEN) continue;
    let end = start;
    while (end - start < n && isOpen(end)) end++;
    const across = bridge(side(view, at, { from: start - 1, step: -1 }), side(view, at, { from: end, step: 1 }));
    if (!across || across.width <= mark.over || across.width > mark.upTo) continue;
    for (let i = start; i < end; i++) {
      view.ends[at(i)] = mark.end;
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
  if (!edge) return null;
  for (let k = 0; k <= 6; k++) {
    const look = at(from + k * step);
    if (view.ends[look] !== SEEN) return null;
    const inner = view.places[look];
    if (inner && distance(inner, edge) >= LEVER) return { edge, inner, reach: view.reaches[at(from)] ?? 0 };
  }
  return null;
}

function bridge(a: Side | null, b: Side | null): { width: number; middle: Vec3; reach: number } | null {
  if (!a || !b) return null;
  const width = distance(a.edge, b.edge);
  if (!(width > 0)) return null;
  const over = unit(subtract(b.edge, a.edge));
  const [into, out] = [unit(subtract(a.edge, a.inner)), unit(subtract(b.inner, b.edge))];
  if (dot(into, over) < STRAIGHT || dot(over, out) < STRAIGHT) return null;
  return { width, middle: scale(along(a.edge, b.edge, 1), 0.5), reach: (a.reach + b.reach) / 2 };
}
