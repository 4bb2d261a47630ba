import { expect, test } from 'vitest';
import { seededRandom } from '../random.ts';
import { add, along, cross, dot, perpendicular, scale, subtract, unit, type Vec3 } from '../vector.ts';
import { depthToMesh, depthToPoints, type ToolPath } from './freeDepth.ts';
import { cornerAt, meshFrom, type TriangleMesh } from './triangleMesh.ts';

const up: ToolPath = { from: [0, 0, 0], way: [0, 0, 1], radius: 1 };
const facet = (...corners: readonly Vec3[]): TriangleMesh => meshFrom(corners.flat(), [0, 1, 2]);

test.each<[string, TriangleMesh, number | undefined]>([
  ['a level plate over the whole mouth', facet([-9, -9, 3], [9, -9, 3], [0, 9, 3]), 3],
  // z = 4 + x over the disc: lowest at x = -1.
  ['a sloping plate, at the wall of the tool', facet([-9, -9, -5], [9, -9, 13], [0, 18, 4]), 3],
  ['a corner that looks in', facet([0.5, 0, 2], [9, 1, 2], [9, -1, 2]), 2],
  // The edge from (2, 0, 0) to (0, 0, 4) passes the wall at x = 1, z = 2; the other corner is far off.
  ['an edge that comes in through the wall', facet([2, 0, 0], [0, 0, 4], [2, 9, 4]), 2],
  ['a wall along the axis, lower on one side', facet([0.6, -9, 1], [0.6, 9, 5], [0.6, 9, 9]), 3 - (4 / 18) * 0.8],
  ['one beside the tool', facet([1.1, -9, 1], [1.1, 9, 1], [3, 0, 1]), undefined],
  ['one behind the mouth', facet([-9, -9, -2], [9, -9, -2], [0, 9, -2]), undefined],
  ['one through the mouth', facet([-9, 0.2, -9], [9, 0.2, -9], [0, 0.2, 9]), 0],
])('%s', (_, mesh, depth) => {
  const stop = depthToMesh(mesh, up);
  if (depth === undefined) expect(stop).toBeUndefined();
  else expect(stop?.depth).toBeCloseTo(depth, 12);
});

test('400 random triangles and tools: exact against a fine raster of each triangle (seed 3)', () => {
  const random = seededRandom(3);
  const near = (): number => 4 * random() - 2;
  const place = (): Vec3 => [near(), near(), near()];
  let hits = 0;
  for (let i = 0; i < 400; i++) {
    const corners = [place(), place(), place()] as const;
    const tool: ToolPath = { from: place(), way: unit(place()), radius: 0.2 + random() };
    const stop = depthToMesh(facet(...corners), tool);
    const brute = rastered(corners, tool);
    if (stop) {
      hits += 1;
      expect(onTriangle(stop.at, corners)).toBeLessThan(1e-9);
      expect(radial(stop.at, tool)).toBeLessThan(tool.radius * (1 + 1e-9));
      expect(dot(subtract(stop.at, tool.from), tool.way)).toBeCloseTo(stop.depth, 9);
    }
    // The raster only sees some places of the triangle: it finds no lower one, and one nearly as low.
    expect(brute).toBeGreaterThanOrEqual((stop?.depth ?? 1e9) - 1e-9);
    if (brute < 1e8) expect(brute - (stop?.depth ?? -1e9)).toBeLessThan(0.15);
  }
  expect(hits).toBeGreaterThan(100);
});

test('points: the nearest to the mouth within the tool, the end of the stud left out', () => {
  const positions = Float32Array.from([0.1, 0, 0.5, 0.9, 0, 2, 0, 1.1, 0.2, 0, 0, -1]);
  expect(depthToPoints(positions, [0, 0, 0], up)).toMatchObject({ depth: 0.5 });
  const hollow = { radius: 0.3, depth: 1 };
  expect(depthToPoints(positions, [0, 0, 0], { ...up, hollow })).toEqual({ depth: 2, at: [Math.fround(0.9), 0, 2] });
  expect(depthToPoints(positions, [5, 0, 0], up)).toBeUndefined();
});

const STEPS = 120;

function rastered([p, q, r]: readonly [Vec3, Vec3, Vec3], tool: ToolPath): number {
  let least = 1e9;
  for (let a = 0; a <= STEPS; a++)
    for (let b = 0; a + b <= STEPS; b++) {
      const at = add(p, add(scale(subtract(q, p), a / STEPS), scale(subtract(r, p), b / STEPS)));
      const depth = dot(subtract(at, tool.from), tool.way);
      if (depth >= 0 && radial(at, tool) <= tool.radius) least = Math.min(least, depth);
    }
  return least;
}

function radial(p: Vec3, { from, way }: ToolPath): number {
  const d = subtract(p, from);
  return Math.hypot(...along(d, way, -dot(d, way)));
}

/** How far a place is off the plane of a triangle or outside its edges. */
function onTriangle(at: Vec3, corners: readonly [Vec3, Vec3, Vec3]): number {
  const normal = unit(cross(subtract(corners[1], corners[0]), subtract(corners[2], corners[0])));
  const outside = corners.map((from, i) => {
    const to = corners[(i + 1) % 3] ?? from;
    return Math.max(0, -dot(cross(subtract(to, from), subtract(at, from)), normal));
  });
  return Math.max(Math.abs(dot(subtract(at, corners[0]), normal)), ...outside);
}

test('the corners used are those of the mesh', () => {
  const mesh = facet([1, 2, 3], [4, 5, 6], [7, 8, 10]);
  expect(cornerAt(mesh, 0, 2)).toEqual([7, 8, 10]);
  expect(dot(perpendicular(up.way), up.way)).toBe(0);
});
