import type { PartGapJob, PartGapResult } from '../../../shared/geometry/accessMeasurement.ts';
import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import { isClosed } from '../../../shared/geometry/mesh/edges.ts';
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
  const inside = deepest(whole, grid.positions, around);
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

/** Numbers of the scan points in the box of a mesh, away from the head: those that may be inside it. */
function pointsAround(mesh: TriangleMesh, positions: Float32Array, head: number): readonly number[] {
  const box = boxOf(mesh);
  const around: number[] = [];
  if (!box) return around;
  const { least, greatest } = box;
  const front = Math.max(head, least[1]);
  for (let i = 0, o = 0; o < positions.length; i++, o += 3) {
    const [x, y, z] = [positions[o] ?? 0, positions[o + 1] ?? 0, positions[o + 2] ?? 0];
    if (x > least[0] && x < greatest[0] && y > front && y < greatest[1] && z > least[2] && z < greatest[2])
      around.push(i);
  }
  return around;
}

/**
 * Of some points the one deepest inside a closed mesh. Nothing of its surface is nearer to a point than the distance of that point, so all that lies
 * nearer to it is on its side and no more than that much deeper: of points that stand together few are asked.
 */
function deepest(mesh: TriangleMesh, positions: Float32Array, around: readonly number[]): Inside | undefined {
  if (around.length === 0) return undefined;
  const tree = triangleTree(mesh);
  const [caster, finder] = [new RayCaster(tree), new NearestFinder(tree)];
  const known = { x: 0, y: 0, z: 0, reach: -1, inside: false };
  let found: Inside | undefined;
  for (const i of around) {
    const point = pointAt(positions, i);
    const [x, y, z] = point;
    const away = Math.sqrt((x - known.x) ** 2 + (y - known.y) ** 2 + (z - known.z) ** 2);
    const alike = away < known.reach;
    if (alike && (!known.inside || known.reach + away < (found?.depth ?? 0))) continue;
    const inside = alike ? known.inside : inSolid(tree, caster, point);
    const reach = Math.sqrt(finder.find(point, Number.MAX_VALUE));
    Object.assign(known, { x, y, z, reach, inside });
    if (!inside || reach < (found?.depth ?? 0)) continue;
    const [fx = 0, fy = 0, fz = 0] = finder.place;
    found = { depth: reach, point, foot: [fx, fy, fz] };
  }
  return found;
}
