import { type Known, known } from '../../units/known.ts';
import { contradiction } from '../limits.ts';
import { along, cross, dot, minus, size, type Triple, turned, unit } from './direction.ts';

/** One row of a bend table: feed, then turn the tube, then bend. m and rad. */
export interface BendRow {
  /** Straight before the bend. */
  readonly length: number;
  /** Turn of the bend plane since the bend before, right-handed about the feed; 0 at the first bend. */
  readonly rotation: number;
  readonly angle: number;
  /** Centreline radius. */
  readonly radius: number;
}
/** A tube as a bender wants it. */
export interface BendTable {
  readonly rows: readonly BendRow[];
  /** Straight after the last bend. */
  readonly tail: number;
  /** Length of the straight tube to cut. */
  readonly developed: number;
}
/** Which turn a machine calls positive: right-handed about the feed, or the other way. */
export type RotationSense = 'right' | 'left';

/** Below this a corner does not bend and is dropped, rad. */
const straight = 1e-6;
/** Corners sharper than this have no bend, rad. */
const sharpest = Math.PI - 1e-3;

interface Corner {
  readonly angle: number;
  readonly normal: Triple;
  readonly point: Triple;
  readonly inward: Triple;
}

/**
 * Bend table of a polyline through `points` (m, at least two) bent at one `radius` (m). Corners that do not turn are dropped. Two corners
 * too close for their bends, equal points or a corner that turns back are inconsistent. Source: geometry (own), round trip checked.
 */
export function bendTable(points: readonly Triple[], radius: number, sense: RotationSense = 'right'): Known<BendTable> {
  const fault = pointsFault(points, radius);
  if (fault) return contradiction(`bend table: ${fault}`);
  const corners = cornersOf(points);
  const folded = corners.find(({ angle }) => angle > sharpest);
  if (folded)
    return contradiction(
      `bend table: expected corners below 180 degrees, got one that turns back at ${folded.point.join(', ')} m`,
    );
  const rows: BendRow[] = [];
  let from = points[0];
  let owed = 0;
  let previous: Corner | null = null;
  for (const corner of corners) {
    const setback = radius * Math.tan(corner.angle / 2);
    const length = size(minus(corner.point, from ?? corner.point)) - owed - setback;
    const turn = previous ? turnBetween(previous.normal, corner.normal, corner.inward) : 0;
    rows.push({ length, rotation: sense === 'right' ? turn : 0 - turn, angle: corner.angle, radius });
    [from, owed, previous] = [corner.point, setback, corner];
  }
  const end = points.at(-1);
  const tail = from && end ? size(minus(end, from)) - owed : Number.NaN;
  return checked({ rows, tail, developed: tail + rows.reduce((sum, r) => sum + r.length + r.radius * r.angle, 0) });
}

function pointsFault(points: readonly Triple[], radius: number): string | null {
  if (!(radius > 0 && radius <= 5)) return `expected a radius above 0 and up to 5 m, got ${radius}`;
  if (points.length < 2) return `expected at least two points, got ${points.length}`;
  if (!points.every((p) => p.every(Number.isFinite))) return 'expected finite points, got one that is not';
  const same = points.findIndex((p, i) => i > 0 && size(minus(p, points[i - 1] ?? p)) === 0);
  return same < 0 ? null : `expected points apart from each other, got points ${same} and ${same + 1} in one place`;
}

function cornersOf(points: readonly Triple[]): Corner[] {
  const corners: Corner[] = [];
  for (let i = 1; i < points.length - 1; i++) {
    const [a, b, c] = [points[i - 1], points[i], points[i + 1]];
    if (!a || !b || !c) continue;
    const inward = unit(minus(b, a));
    const outward = unit(minus(c, b));
    const normal = cross(inward, outward);
    const angle = Math.atan2(size(normal), dot(inward, outward));
    if (angle >= straight) corners.push({ angle, normal: unit(normal), point: b, inward });
  }
  return corners;
}

function turnBetween(before: Triple, after: Triple, feed: Triple): number {
  return Math.atan2(dot(cross(before, after), feed), dot(before, after));
}

function checked(table: BendTable): Known<BendTable> {
  const tight = [...table.rows.map(({ length }) => length), table.tail].findIndex((length) => !(length >= -1e-12));
  if (tight < 0) return known(table);
  const came = tight < table.rows.length ? table.rows[tight]?.length : table.tail;
  return contradiction(
    `bend table: expected straights of 0 m or more, got ${came} m at straight ${tight + 1}: the bends overlap`,
  );
}

/**
 * Corner points of a bend table, m, from the origin along +x with the first bend about +z: the inverse of {@link bendTable}, up to the place
 * of the tube. Negative lengths, radii or angles outside 0 to 180 degrees are inconsistent.
 */
export function bendPoints(
  table: Pick<BendTable, 'rows' | 'tail'>,
  sense: RotationSense = 'right',
): Known<readonly Triple[]> {
  let [at, feed, normal]: [Triple, Triple, Triple] = [
    [0, 0, 0],
    [1, 0, 0],
    [0, 0, 1],
  ];
  const points: Triple[] = [at];
  let owed = 0;
  for (const [i, { length, rotation, angle, radius }] of table.rows.entries()) {
    if (!(length >= -1e-12 && radius > 0 && angle > 0 && angle < sharpest && Number.isFinite(rotation)))
      return contradiction(`bend table: expected length >= 0, radius > 0 and 0 < angle < 180 degrees in row ${i + 1}`);
    const setback = radius * Math.tan(angle / 2);
    at = along(at, feed, owed + length + setback);
    points.push(at);
    normal = turned(normal, feed, sense === 'right' ? rotation : -rotation);
    feed = turned(feed, normal, angle);
    owed = setback;
  }
  if (!(table.tail >= -1e-12))
    return contradiction(`bend table: expected a last straight of 0 m or more, got ${table.tail}`);
  points.push(along(at, feed, owed + table.tail));
  return known(points);
}
