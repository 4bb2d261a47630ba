import type { PartGapJob, PartGapResult } from '../../../shared/geometry/accessMeasurement.ts';
import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import { edgesOf } from '../../../shared/geometry/mesh/edges.ts';
import { inSolid } from '../../../shared/geometry/mesh/inside.ts';
import { NearestFinder } from '../../../shared/geometry/mesh/nearest.ts';
import { RayCaster } from '../../../shared/geometry/mesh/rayHit.ts';
import { boxOf, type TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { triangleTree } from '../../../shared/geometry/mesh/triangleTree.ts';
import { add, type Vec3 } from '../../../shared/geometry/vector.ts';
import type { Attempt } from '../jobs.ts';
import { isFault, type KernelFault, type Nearest } from '../kernels/clearance.ts';
import { keptKernel } from '../kernels/kept-kernel.ts';

const failed = (code: string, message: string): Attempt<never> => ({ ok: false, problem: { code, message } });

/** Smallest distance between a part and a scan; below zero by the deepest scan point inside the part, when its mesh is closed. */
export function partGap(
  mesh: TriangleMesh,
  grid: PointGrid,
  { fromY }: Pick<PartGapJob, 'fromY'>,
): Attempt<PartGapResult> {
  const whole = shifted(mesh, grid.origin);
  const head = fromY - grid.origin[1];
  const nearest = nearestOf(beyond(whole, head), grid);
  if (isFault(nearest)) return failed(nearest.kind, nearest.message);
  if (!nearest) return failed('empty', 'Expected a scan with points and a part with faces away from the head.');
  const place = (p: Vec3): Vec3 => add(p, grid.origin);
  const rest = { points: grid.count, cover: grid.cover };
  const around = pointsAround(whole, grid.positions, head);
  if (around.length > 0 && !isClosed(whole)) return failed('not-closed', openWords(around.length));
  const inside = deepest(whole, around);
  if (inside) {
    const { depth, point, foot } = inside;
    return { ok: true, result: { gap: -depth, point: place(point), onPart: place(foot), ...rest } };
  }
  const point = place(pointAt(grid.positions, nearest.point));
  return { ok: true, result: { gap: nearest.distance, point, onPart: place(nearest.place), ...rest } };
}

function nearestOf(mesh: TriangleMesh, grid: PointGrid): Nearest | KernelFault | undefined {
  const kernel = keptKernel(grid);
  if (isFault(kernel)) return kernel;
  const surface = kernel.surface(mesh);
  const nearest = isFault(surface) ? surface : surface.smallest();
  kernel.clear();
  return nearest;
}

const pointAt = (positions: Float32Array, i: number): Vec3 => [
  positions[3 * i] ?? 0,
  positions[3 * i + 1] ?? 0,
  positions[3 * i + 2] ?? 0,
];

/** A mesh in the frame of a grid whose origin is so far away, metres. */
export const shifted = ({ positions, indices }: TriangleMesh, by: Vec3): TriangleMesh => ({
  positions: positions.map((x, i) => x - (by[i % 3] ?? 0)),
  indices,
});

/** The triangles with a corner farther from the head than this. */
function beyond({ positions, indices }: TriangleMesh, y: number): TriangleMesh {
  const kept: number[] = [];
  for (let t = 0; t < indices.length; t += 3) {
    const corners = indices.subarray(t, t + 3);
    if (corners.some((vertex) => (positions[3 * vertex + 1] ?? 0) > y)) kept.push(...corners);
  }
  return { positions, indices: Uint32Array.from(kept) };
}

interface Inside {
  readonly depth: number;
  readonly point: Vec3;
  readonly foot: Vec3;
}

const openWords = (count: number): string =>
  `Expected a closed part: ${count} scan points lie in its box, and an open surface does not tell which of them are inside it. Its report says where it is open.`;

/** Scan points in the box of a mesh, away from the head: those that may be inside it. */
function pointsAround(mesh: TriangleMesh, positions: Float32Array, head: number): readonly Vec3[] {
  const box = boxOf(mesh);
  const around: Vec3[] = [];
  if (!box) return around;
  for (let i = 0; 3 * i < positions.length; i++) {
    const point = pointAt(positions, i);
    if (point[1] <= head || point.some((x, k) => x <= (box.least[k] ?? 0) || x >= (box.greatest[k] ?? 0))) continue;
    around.push(point);
  }
  return around;
}

/** Of some points the one deepest inside a closed mesh. */
function deepest(mesh: TriangleMesh, points: readonly Vec3[]): Inside | undefined {
  if (points.length === 0) return undefined;
  const tree = triangleTree(mesh);
  const [caster, finder] = [new RayCaster(tree), new NearestFinder(tree)];
  let [deep, found] = [0, undefined as Inside | undefined];
  for (const point of points) {
    if (!inSolid(tree, caster, point)) continue;
    const squared = finder.find(point, Number.MAX_VALUE);
    if (squared < deep) continue;
    deep = squared;
    const [x = 0, y = 0, z = 0] = finder.place;
    found = { depth: Math.sqrt(squared), point, foot: [x, y, z] };
  }
  return found;
}

/** Whether each edge belongs to two triangles: what is open has no inside. */
export function isClosed(mesh: TriangleMesh): boolean {
  const { uses, count } = edgesOf(mesh);
  for (let edge = 0; edge < count; edge++) if (uses[edge] !== 2) return false;
  return count > 0;
}
