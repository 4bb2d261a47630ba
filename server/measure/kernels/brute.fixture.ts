import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { cornerAt, triangleCount } from '../../../shared/geometry/mesh/triangleMesh.ts';
import type { Random } from '../../../shared/geometry/random.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';

/** What the triangles are like: about 3 mm, up to 100 mm, 0.05 mm, or 30 mm with every sort of degenerate and sliver among them. */
export const meshKinds = ['small', 'large', 'tiny', 'mixed'] as const;
/** One of them. */
export type MeshKind = (typeof meshKinds)[number];

const sizes: Readonly<Record<MeshKind, number>> = { small: 0.003, large: 0.1, tiny: 5e-5, mixed: 0.03 };

/** Triangles that do not touch, scattered over 0.3 m. */
export function looseTriangles(kind: MeshKind, count: number, random: Random): TriangleMesh {
  const positions = new Float64Array(9 * count);
  for (let t = 0; t < count; t++) {
    const centre = [random(), random(), random()].map((x) => 0.3 * x - 0.15);
    for (let k = 0; k < 9; k++) positions[9 * t + k] = (centre[k % 3] ?? 0) + (random() - 0.5) * sizes[kind];
    if (kind === 'mixed') spoil(positions.subarray(9 * t, 9 * t + 9), t % 5, random);
  }
  return { positions, indices: Uint32Array.from({ length: 3 * count }, (_, i) => i) };
}

/** Two corners the same, all in line, a sliver a micrometre high, one point only; every fifth stays as it is. */
function spoil(corners: Float64Array, how: number, random: Random): void {
  for (let k = 0; k < 3; k++) {
    const [a, b] = [corners[k] ?? 0, corners[3 + k] ?? 0];
    if (how === 0) corners[6 + k] = a;
    if (how === 1) corners[6 + k] = (a + b) / 2;
    if (how === 2) corners[6 + k] = (a + b) / 2 + (random() - 0.5) * 1e-6;
    if (how === 3) corners[3 + k] = corners[6 + k] = a;
  }
}

/** Coordinates that single precision holds exactly in millimetres: 2^-12 mm apart. Then what is left is the error of the arithmetic. */
const snap = (x: number): number => Math.round(x * 1000 * 4096) / 4096 / 1000;

/** A mesh on that grid. */
export const snapped = ({ positions, indices }: TriangleMesh): TriangleMesh => ({
  positions: positions.map(snap),
  indices,
});

/** Points over the same 0.3 m and a little beyond, on the same grid, in a box about zero. */
export function scatter(count: number, random: Random): Float64Array {
  const points = Float64Array.from({ length: 3 * count }, () => snap(0.32 * random() - 0.16));
  // Its corners make the middle of the box zero, so that the grid stays one.
  if (count >= 2) points.set([-0.1625, -0.1625, -0.1625, 0.1625, 0.1625, 0.1625]);
  return points;
}

/** Slivers 40 mm long and from a quarter of a micrometre to 2 mm high, with points within 50 micrometres of each, over it and about it. */
export function slivers(count: number, random: Random): { readonly mesh: TriangleMesh; readonly points: Float64Array } {
  const positions: number[] = [];
  const points: number[] = [-0.1625, -0.1625, -0.1625, 0.1625, 0.1625, 0.1625];
  for (let t = 0; t < count; t++) {
    const [a, b] = [0, 1].map(() => [random(), random(), random()].map((x) => 0.08 * (x - 0.5)));
    const high = 2.5e-7 * 8_000 ** random();
    const third = (a ?? []).map((x, k) => (x + (b?.[k] ?? 0)) / 2 + (random() - 0.5) * high);
    const corners = [a ?? [], b ?? [], third].map((corner) => corner.map(snap));
    positions.push(...corners.flat());
    for (let i = 0; i < 8; i++) {
      const along = 1.02 * random() - 0.01;
      for (let k = 0; k < 3; k++) {
        const on = (corners[0]?.[k] ?? 0) * (1 - along) + (corners[1]?.[k] ?? 0) * along;
        points.push(snap(on + ((corners[2]?.[k] ?? 0) - on) * random() ** 4 + (random() - 0.5) * 1e-4 * random() ** 3));
      }
    }
  }
  const indices = Uint32Array.from({ length: 3 * count }, (_, i) => i);
  return { mesh: { positions: Float64Array.from(positions), indices }, points: Float64Array.from(points) };
}

/** A tube bent by so many radians, 12 facets, 20 rings. */
export function bentTube(bend: number, [x0, y0, z0]: Vec3): TriangleMesh {
  const [rings, facets, radius, turn] = [20, 12, 0.018, 0.12];
  const positions: number[] = [];
  const indices: number[] = [];
  for (let i = 0; i < rings; i++) {
    const along = (bend * 4 * i) / (rings - 1);
    for (let j = 0; j < facets; j++) {
      const about = (2 * Math.PI * j) / facets;
      const out = turn + radius * Math.cos(about);
      positions.push(x0 + radius * Math.sin(about), y0 + out * Math.cos(along) - turn, z0 + out * Math.sin(along));
      if (i === 0) continue;
      const [a, b] = [i * facets + j, i * facets + ((j + 1) % facets)];
      indices.push(a, b, a - facets, b, b - facets, a - facets);
    }
  }
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}

/** Distance of each point from all triangles, one by one, in double precision. Shares no code and no formula with the kernels. */
export function bruteDistances(points: ArrayLike<number>, mesh: TriangleMesh): Float64Array {
  const count = triangleCount(mesh);
  const corners = Array.from({ length: count }, (_, t): [Vec3, Vec3, Vec3] => [
    cornerAt(mesh, t, 0),
    cornerAt(mesh, t, 1),
    cornerAt(mesh, t, 2),
  ]);
  return Float64Array.from({ length: points.length / 3 }, (_, i) => {
    const at: Vec3 = [points[3 * i] ?? 0, points[3 * i + 1] ?? 0, points[3 * i + 2] ?? 0];
    return corners.reduce((least, triangle) => Math.min(least, fromTriangle(at, triangle)), Number.POSITIVE_INFINITY);
  });
}

const minus = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const inner = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const scaled = (a: Vec3, by: number): Vec3 => [a[0] * by, a[1] * by, a[2] * by];

/** Laid into a plane: first axis along the longest edge, second along what is left of the third corner. */
function fromTriangle(point: Vec3, [a, b, c]: readonly [Vec3, Vec3, Vec3]): number {
  const edges = [fromEdge(point, a, b), fromEdge(point, b, c), fromEdge(point, c, a)];
  const least = Math.min(...edges);
  const byLength: [Vec3, Vec3, Vec3][] = [
    [a, b, c],
    [b, c, a],
    [c, a, b],
  ];
  const [from, to, third] = byLength.reduce((best, one) => (span(one) > span(best) ? one : best));
  const long = Math.hypot(...minus(to, from));
  if (long === 0) return least;
  const first = scaled(minus(to, from), 1 / long);
  const over = minus(third, from);
  const rest = minus(over, scaled(first, inner(over, first)));
  const height = Math.hypot(...rest);
  if (height < 1e-15) return least;
  const second = scaled(rest, 1 / height);
  const p = minus(point, from);
  const [x, y, foot] = [inner(p, first), inner(p, second), inner(over, first)];
  const inside = y >= 0 && y <= height && x * height >= foot * y && (long - x) * height >= (long - foot) * y;
  if (!inside) return least;
  return Math.hypot(...minus(p, [0, 1, 2].map((k) => x * (first[k] ?? 0) + y * (second[k] ?? 0)) as unknown as Vec3));
}

const span = ([a, b]: readonly [Vec3, Vec3, Vec3]): number => Math.hypot(...minus(b, a));

function fromEdge(point: Vec3, a: Vec3, b: Vec3): number {
  const edge = minus(b, a);
  const long = inner(edge, edge);
  const along = long > 0 ? Math.min(1, Math.max(0, inner(minus(point, a), edge) / long)) : 0;
  return Math.hypot(...minus(minus(point, a), scaled(edge, along)));
}
