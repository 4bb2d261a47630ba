import type { Vec3 } from '../vector.ts';
import { add, along, cross, dot, perpendicular, scale, subtract, unit } from '../vector.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import { triangleCount, vertexAt } from './triangleMesh.ts';

/** A round tool that goes straight onto a fastener. Lengths in metres. */
export interface ToolPath {
  /** Middle of the mouth of the tool when it is on. */
  readonly from: Vec3;
  /** Unit vector from the mouth towards the hand. */
  readonly way: Vec3;
  readonly radius: number;
  /** Inside this radius and depth the tool is hollow: the end of the stud goes there. */
  readonly hollow?: { readonly radius: number; readonly depth: number };
}

/** Where a tool is stopped first: how far above the mouth, metres, and the place. */
export interface Stop {
  readonly depth: number;
  readonly at: Vec3;
}

/** Two triangles across the axis are told apart from two along it by this share of their size (own: rounding). */
const FLAT = 1e-12;

/**
 * How near to its mouth a tool meets a mesh. Exact: the part of each triangle within the cylinder is looked at, not its corners alone.
 * What lies before the mouth does not count; a triangle that passes through the mouth stops the tool at 0.
 */
export function depthToMesh(mesh: TriangleMesh, tool: ToolPath): Stop | undefined {
  const axes = axesOf(tool);
  let best: Stop | undefined;
  for (let t = 0; t < triangleCount(mesh); t++) {
    const corners = [0, 1, 2].map((c) => local(vertexAt(mesh, mesh.indices[3 * t + c] ?? 0), tool, axes));
    const stop = stopIn(corners, tool.radius, best?.depth ?? Number.POSITIVE_INFINITY);
    if (stop) best = { depth: stop[2], at: placed(stop, tool, axes) };
  }
  return best;
}

/** How near to its mouth a tool meets a scan point. The hollow counts for points: a scanned stud goes into it. */
export function depthToPoints(positions: Float32Array, origin: Vec3, tool: ToolPath): Stop | undefined {
  const start = subtract(origin, tool.from);
  const [x0, y0, z0] = start;
  const [wx, wy, wz] = tool.way;
  const { radius, hollow } = tool;
  let [best, at] = [Number.POSITIVE_INFINITY, -1];
  for (let i = 0; i + 2 < positions.length; i += 3) {
    const [x, y, z] = [x0 + (positions[i] ?? 0), y0 + (positions[i + 1] ?? 0), z0 + (positions[i + 2] ?? 0)];
    const depth = x * wx + y * wy + z * wz;
    if (depth < 0 || depth >= best) continue;
    const squared = x * x + y * y + z * z - depth * depth;
    if (squared > radius * radius) continue;
    if (hollow && depth <= hollow.depth && squared <= hollow.radius * hollow.radius) continue;
    [best, at] = [depth, i];
  }
  if (at < 0) return undefined;
  const point: Vec3 = [positions[at] ?? 0, positions[at + 1] ?? 0, positions[at + 2] ?? 0];
  return { depth: best, at: add(point, origin) };
}

type Axes = readonly [Vec3, Vec3];

function axesOf({ way }: ToolPath): Axes {
  const side = unit(perpendicular(way));
  return [side, cross(way, side)];
}

/** A place as seen from the mouth: across, across, along. */
function local(p: Vec3, { from, way }: ToolPath, [u, v]: Axes): Vec3 {
  const d = subtract(p, from);
  return [dot(d, u), dot(d, v), dot(d, way)];
}

const placed = ([a, b, s]: Vec3, { from, way }: ToolPath, [u, v]: Axes): Vec3 =>
  along(add(from, add(scale(u, a), scale(v, b))), way, s);

/** The place of a triangle (seen from the mouth) that is within the cylinder, not before the mouth and nearest to it; undefined when none is nearer than `best`. */
function stopIn(corners: readonly Vec3[], radius: number, best: number): Vec3 | undefined {
  const across = (k: 0 | 1 | 2) => corners.map((c) => c[k]);
  if (Math.min(...across(2)) >= best || Math.max(...across(2)) < 0) return undefined;
  for (const k of [0, 1] as const)
    if (Math.min(...across(k)) > radius || Math.max(...across(k)) < -radius) return undefined;
  const ends = extremes(corners, radius);
  if (!ends) return undefined;
  const [low, high] = ends;
  if (high[2] < 0) return undefined;
  // The region is convex: it crosses the mouth on the way from its lowest to its highest place.
  const stop = low[2] >= 0 ? low : along(low, subtract(high, low), low[2] / (low[2] - high[2]));
  return stop[2] < best ? stop : undefined;
}

/** Lowest and highest place of the part of a triangle within the cylinder; a linear height has its extremes at corners, on edges at the wall, or on the wall inside. */
function extremes(corners: readonly Vec3[], radius: number): readonly [Vec3, Vec3] | undefined {
  const places = [
    ...corners.filter(([a, b]) => a * a + b * b <= radius * radius),
    ...corners.flatMap((from, i) => atWall(from, corners[(i + 1) % 3] ?? from, radius)),
    ...withinFace(corners, radius),
  ];
  const [first] = places;
  if (!first) return undefined;
  return places.reduce<readonly [Vec3, Vec3]>(
    ([low, high], p) => [p[2] < low[2] ? p : low, p[2] > high[2] ? p : high],
    [first, first],
  );
}

/** Where an edge goes through the wall of the cylinder. */
function atWall(from: Vec3, to: Vec3, radius: number): readonly Vec3[] {
  const d = subtract(to, from);
  const a = d[0] * d[0] + d[1] * d[1];
  const b = from[0] * d[0] + from[1] * d[1];
  const c = from[0] * from[0] + from[1] * from[1] - radius * radius;
  const root = Math.sqrt(b * b - a * c);
  if (!(a > 0) || Number.isNaN(root)) return [];
  return [(-b - root) / a, (-b + root) / a].filter((t) => t >= 0 && t <= 1).map((t) => along(from, d, t));
}

/** Where the wall, or the axis of a level face, meets the face where it is lowest and highest. */
function withinFace([p, q, r]: readonly Vec3[], radius: number): readonly Vec3[] {
  if (!p || !q || !r) return [];
  const normal = cross(subtract(q, p), subtract(r, p));
  const size = Math.hypot(...normal);
  if (Math.abs(normal[2]) <= FLAT * size) return [];
  const [gx, gy] = [-normal[0] / normal[2], -normal[1] / normal[2]];
  const height = (a: number, b: number): number => p[2] + gx * (a - p[0]) + gy * (b - p[1]);
  const slope = Math.hypot(gx, gy);
  const [a, b] = slope > 0 ? [(radius * gx) / slope, (radius * gy) / slope] : [0, 0];
  return [[a, b] as const, [-a, -b] as const]
    .filter(([x, y]) => inTriangle(x, y, [p, q, r]))
    .map(([x, y]): Vec3 => [x, y, height(x, y)]);
}

function inTriangle(x: number, y: number, corners: readonly Vec3[]): boolean {
  const signs = corners.map((from, i) => {
    const to = corners[(i + 1) % 3] ?? from;
    return (to[0] - from[0]) * (y - from[1]) - (to[1] - from[1]) * (x - from[0]);
  });
  return signs.every((s) => s >= 0) || signs.every((s) => s <= 0);
}
