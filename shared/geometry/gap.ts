import type { Centreline } from './centreline.ts';
import { piecesBetween } from './centreline.ts';
import type { PointGrid } from './cloud.ts';
import { BLOCK, FANOUT, levelStarts } from './cloud.ts';
import type { Foot } from './distance.ts';
import { footOnPiece } from './distance.ts';
import type { TubeKernel } from './kernel.ts';
import { gapToTube, squaredToCentreline, tubeKernel } from './kernel.ts';
import type { Piece } from './piece.ts';
import { pointOnPiece, tangentOnPiece } from './piece.ts';
import type { Vec3 } from './vector.ts';
import { add, along, distance, dot, norm, perpendicular, scale, subtract } from './vector.ts';

/** The smallest distance between a tube's outer surface and a scan, and where. Metres. */
export interface Gap {
  /** Negative when the scan point is inside the tube: minus the way out through the side. */
  readonly gap: number;
  /** The scan point. */
  readonly point: Vec3;
  /** Nearest place on the centreline, and its distance from the start of the centreline. */
  readonly foot: Vec3;
  readonly s: number;
  /** Nearest place on the tube's outer surface. */
  readonly onTube: Vec3;
}

/** The scan points nearer to the tube than a limit. */
export interface NearPoints {
  /** xyz metres from the grid's origin. At most the asked number, evenly picked when there are more. */
  readonly points: Float32Array<ArrayBuffer>;
  /** Distance of each point given to the tube's outer surface, metres. */
  readonly gaps: Float32Array<ArrayBuffer>;
  /** How many there are altogether. */
  readonly total: number;
}

/** What to measure: the tube around a centreline from a distance along it (metres) to its end. */
export interface TubeReach {
  readonly centreline: Centreline;
  readonly outerRadius: number;
  /** The tube counts only from here on, cut square: a port's own metal is not an obstacle. */
  readonly fromS: number;
}

/**
 * The exact smallest distance from a tube's outer surface to any point of a scan. The tube ends flat at fromS and at its end.
 * @returns undefined when the grid is empty or nothing of the tube lies beyond fromS
 */
export function smallestGap(tube: TubeReach, grid: PointGrid): Gap | undefined {
  const pieces = reach(tube);
  const kernel = tubeKernel(pieces, tube.outerRadius);
  if (!kernel || grid.count === 0) return undefined;
  const frame = { kernel, grid };
  let best = Number.POSITIVE_INFINITY;
  let at = -1;
  visitNear(
    frame,
    () => best,
    (index, gap) => {
      if (gap >= best) return;
      best = gap;
      at = index;
    },
  );
  return at < 0 ? undefined : witness({ pieces, radius: tube.outerRadius, gap: best, point: pointOf(grid, at) });
}

/**
 * The scan points whose distance to the tube's outer surface is below a limit (metres), to show where it is tight.
 * @param show the limit and how many points to give at most
 */
export function pointsUnder(
  tube: TubeReach,
  grid: PointGrid,
  show: { readonly limit: number; readonly max: number },
): NearPoints {
  const found: { readonly index: number; readonly gap: number }[] = [];
  eachUnder(tube, grid, show.limit, (index, gap) => found.push({ index, gap }));
  const shown = Math.min(found.length, Math.max(0, Math.floor(show.max)));
  const near: NearPoints = { points: new Float32Array(3 * shown), gaps: new Float32Array(shown), total: found.length };
  for (let i = 0; i < shown; i++) {
    const hit = found[Math.floor((i * found.length) / shown)];
    if (!hit) continue;
    near.points.set(grid.positions.subarray(3 * hit.index, 3 * hit.index + 3), 3 * i);
    near.gaps[i] = hit.gap;
  }
  return near;
}

/**
 * Calls `see` with every scan point nearer to the tube's outer surface than a limit (metres), in no order: its number in the grid and its
 * distance, as in {@link Gap}. None when nothing of the tube lies beyond fromS.
 */
export function eachUnder(
  tube: TubeReach,
  grid: PointGrid,
  limit: number,
  see: (index: number, gap: number) => void,
): void {
  const kernel = tubeKernel(reach(tube), tube.outerRadius);
  if (!kernel || grid.count === 0) return;
  visitNear(
    { kernel, grid },
    () => limit,
    (index, gap) => {
      if (gap < limit) see(index, gap);
    },
  );
}

const reach = (tube: TubeReach): readonly Piece[] => piecesBetween(tube.centreline, tube.fromS, tube.centreline.length);

function pointOf(grid: PointGrid, index: number): Vec3 {
  const [x = 0, y = 0, z = 0] = grid.positions.subarray(3 * index, 3 * index + 3);
  return add([x, y, z], grid.origin);
}

interface Query {
  readonly kernel: TubeKernel;
  readonly grid: PointGrid;
}

/**
 * Calls `see` with every point that may be nearer than `limit()`, nearest boxes first, so that a shrinking limit prunes early.
 * Boxes wait in a stack with the least distance that anything in them can have.
 */
function visitNear(query: Query, limit: () => number, see: (index: number, gap: number) => void): void {
  const starts = levelStarts(query.grid.count);
  const top = starts.length - 2;
  const stack: Box[] = [boxAt(query, top, starts[top] ?? 0)];
  for (let box = stack.pop(); box; box = stack.pop()) {
    if (box.bound >= limit()) continue;
    if (box.level === 0) {
      visitBlock(query, box.index, see);
      continue;
    }
    const below = starts[box.level - 1] ?? 0;
    const here = starts[box.level] ?? 0;
    const first = below + FANOUT * (box.index - here);
    const children: Box[] = [];
    for (let b = first; b < Math.min(first + FANOUT, here); b++) {
      const child = boxAt(query, box.level - 1, b);
      if (child.bound < limit()) children.push(child);
    }
    children.sort((p, q) => q.bound - p.bound);
    for (const child of children) stack.push(child);
  }
}

interface Box {
  readonly level: number;
  readonly index: number;
  /** No point in the box is nearer to the tube than this, metres. */
  readonly bound: number;
}

/** The box's ball about its middle, against the tube with round ends, which holds the tube with flat ones. */
function boxAt({ kernel, grid }: Query, level: number, index: number): Box {
  const { boxes, origin } = grid;
  const o = 6 * index;
  const [x0, y0, z0] = [boxes[o] ?? 0, boxes[o + 1] ?? 0, boxes[o + 2] ?? 0];
  const [x1, y1, z1] = [boxes[o + 3] ?? 0, boxes[o + 4] ?? 0, boxes[o + 5] ?? 0];
  const middle: Vec3 = [(x0 + x1) / 2 + origin[0], (y0 + y1) / 2 + origin[1], (z0 + z1) / 2 + origin[2]];
  const half = Math.sqrt((x1 - x0) ** 2 + (y1 - y0) ** 2 + (z1 - z0) ** 2) / 2;
  // The margin covers the rounding of this line; a bound must never be too high.
  const bound = Math.sqrt(squaredToCentreline(kernel, middle)) - half - kernel.radius - 1e-9;
  return { level, index, bound };
}

function visitBlock({ kernel, grid }: Query, block: number, see: (index: number, gap: number) => void): void {
  const { positions, origin } = grid;
  const end = Math.min(BLOCK * (block + 1), grid.count);
  for (let i = BLOCK * block; i < end; i++) {
    const o = 3 * i;
    const x = (positions[o] ?? 0) + origin[0];
    const y = (positions[o + 1] ?? 0) + origin[1];
    const z = (positions[o + 2] ?? 0) + origin[2];
    see(i, gapToTube(kernel, [x, y, z]));
  }
}

/** Finds the place on the tube that the gap belongs to: an end face if one is that far away, else the side. */
function witness(found: { pieces: readonly Piece[]; radius: number; gap: number; point: Vec3 }): Gap {
  const { pieces, radius, gap, point } = found;
  for (const end of flatEnds(pieces)) {
    const onTube = onFace(end, point, radius);
    if (dot(subtract(point, end.centre), end.away) >= 0 && Math.abs(distance(point, onTube) - gap) < 1e-10) {
      return { gap, point, foot: end.centre, s: end.s, onTube };
    }
  }
  const feet = pieces.map((piece) => footOnPiece(piece, point));
  const miss = (foot: Foot): number => Math.abs(foot.distance - radius - gap);
  const foot = feet.reduce((best, next) => (miss(next) < miss(best) ? next : best));
  const piece = pieces[feet.indexOf(foot)];
  const way = subtract(point, foot.point);
  // A point on the centreline has no nearest place on the side: any will do.
  const out =
    foot.distance > 0 || !piece
      ? scale(way, 1 / foot.distance)
      : perpendicular(tangentOnPiece(piece, foot.s - piece.s0));
  return { gap, point, foot: foot.point, s: foot.s, onTube: along(foot.point, out, radius) };
}

interface FlatEnd {
  readonly centre: Vec3;
  readonly away: Vec3;
  readonly s: number;
}

function flatEnds(pieces: readonly Piece[]): readonly FlatEnd[] {
  const [first, last] = [pieces[0], pieces.at(-1)];
  if (!first || !last) return [];
  const { length } = last;
  return [
    { centre: pointOnPiece(first, 0), away: scale(tangentOnPiece(first, 0), -1), s: first.s0 },
    { centre: pointOnPiece(last, length), away: tangentOnPiece(last, length), s: last.s0 + length },
  ];
}

/** Nearest place to a point on an end's disc. */
function onFace(end: FlatEnd, point: Vec3, radius: number): Vec3 {
  const way = subtract(point, end.centre);
  const across = along(way, end.away, -dot(way, end.away));
  const off = norm(across);
  return off <= radius ? add(end.centre, across) : along(end.centre, across, radius / off);
}
