import { describe, expect, it } from 'vitest';
import { RayCaster } from '../../../shared/geometry/mesh/rayHit.ts';
import { meshFrom, type TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { triangleTree } from '../../../shared/geometry/mesh/triangleTree.ts';
import { seededRandom } from '../../../shared/geometry/random.ts';
import { unit, type Vec3 } from '../../../shared/geometry/vector.ts';
import { boxMesh } from '../../../tests/support/boxMesh.ts';
import { bentTube, bruteDistances, looseTriangles, meshKinds, scatter } from './brute.fixture.ts';
import { isFault } from './clearance.ts';
import { openRays } from './ray-kernel.ts';
import { inwardRays, type RayHits, type Rays } from './rays.ts';

function cast(mesh: TriangleMesh, rays: Rays, limit: number): RayHits {
  const kernel = openRays(mesh);
  if (!kernel) throw new Error('the kernels are not compiled');
  if (isFault(kernel)) throw new Error(kernel.message);
  return kernel.cast(rays, limit);
}

/** The same in double precision, ray by ray. */
function exactly(mesh: TriangleMesh, rays: Rays, limit: number): number[] {
  const tree = triangleTree(mesh);
  const caster = new RayCaster(tree);
  const leafOf = new Map(Array.from(tree.order, (triangle, leaf) => [triangle, leaf]));
  const at = (list: Float64Array, i: number): Vec3 => [list[3 * i] ?? 0, list[3 * i + 1] ?? 0, list[3 * i + 2] ?? 0];
  return Array.from(rays.own, (triangle, i) =>
    caster.first(at(rays.places, i), at(rays.directions, i), { from: 1e-6, to: limit }, leafOf.get(triangle) ?? -1),
  );
}

it('measures across the walls of a box', () => {
  const box = boxMesh([0.3, 0, 0], [0.31, 0.02, 0.03]);
  const { distances } = cast(box, inwardRays(box), 0.1);
  expect([...distances].map((d) => Math.round(d * 1e6)).sort((a, b) => a - b)).toEqual([
    10000, 10000, 10000, 10000, 20000, 20000, 20000, 20000, 30000, 30000, 30000, 30000,
  ]);
});

it('meets nothing beyond the limit, and nothing at all in an empty mesh', () => {
  const box = boxMesh([0, 0, 0], [0.01, 0.02, 0.03]);
  const { distances, triangles } = cast(box, inwardRays(box), 0.015);
  expect([...triangles].filter((t) => t >= 0)).toHaveLength(4);
  expect([...distances].filter(Number.isFinite)).toHaveLength(4);
  const none = cast(
    meshFrom([], []),
    { places: new Float64Array(3), directions: new Float64Array(3), own: Uint32Array.of(0) },
    1,
  );
  expect(none.triangles[0]).toBe(-1);
});

// Not slivers: whether a ray meets one that is narrower than the slack of an edge is chance either way.
it.each(meshKinds.filter((kind) => kind !== 'mixed'))(
  '2,000 random rays through %s triangles: as ray by ray in double precision (seed 4)',
  (kind) => {
    const random = seededRandom(4);
    const mesh = looseTriangles(kind, 400, random);
    const count = 2000;
    // Each from anywhere to the middle of some triangle.
    const aims = inwardRays(mesh).places;
    const places = Float64Array.from({ length: 3 * count }, () => random() - 0.5);
    const directions = new Float64Array(3 * count);
    for (let i = 0; i < count; i++) {
      const aim = 3 * Math.floor(400 * random());
      const way = [0, 1, 2].map((k) => (aims[aim + k] ?? 0) - (places[3 * i + k] ?? 0));
      directions.set(unit([way[0] ?? 0, way[1] ?? 0, way[2] ?? 0]), 3 * i);
    }
    const rays = { places, directions, own: Uint32Array.from({ length: count }, () => Math.floor(400 * random())) };
    const { distances } = cast(mesh, rays, 2);
    const exact = exactly(mesh, rays, 2);
    // A ray that nearly lies in the plane meets it somewhere else in single precision: that is rare, and all others agree.
    const apart = exact.filter((d, i) => Math.abs((distances[i] ?? 0) - d) > 2e-6 && d !== distances[i]);
    expect(apart.length).toBeLessThanOrEqual(15);
    expect(exact.filter(Number.isFinite).length).toBeGreaterThan(1500);
  },
);

it('rays along an axis, and more than four at odd numbers', () => {
  const tube = bentTube(0.06, [0.2, -0.1, 0.3]);
  const rays = inwardRays(tube);
  const some = {
    places: rays.places.subarray(0, 3 * 403),
    directions: rays.directions.subarray(0, 3 * 403),
    own: rays.own.subarray(0, 403),
  };
  const { distances } = cast(tube, some, 0.2);
  const exact = exactly(tube, some, 0.2);
  expect(distances).toHaveLength(403);
  for (const [i, d] of exact.entries()) if (Number.isFinite(d)) expect(distances[i]).toBeCloseTo(d, 5);
});

it('without vector instructions there is no answer, and a bad mesh is a fault', () => {
  const box = boxMesh([0, 0, 0], [1, 1, 1]);
  expect(openRays(box, () => undefined)).toBeUndefined();
  expect(openRays(meshFrom([0, 0, Number.NaN], []))).toMatchObject({ kind: 'not-finite' });
});

describe('nearest triangles', () => {
  function nearest(mesh: TriangleMesh, count: number) {
    const kernel = openRays(mesh);
    if (!kernel || isFault(kernel)) throw new Error('the kernels are not compiled');
    return { named: kernel.nearest(count), accuracy: kernel.accuracy };
  }

  it.each(meshKinds)('are as near as the nearest of all, also for points that have moved since: %s', (kind) => {
    const random = seededRandom(71);
    const mesh = looseTriangles(kind, 300, random);
    const count = 501;
    const { named, accuracy } = nearest(mesh, count);
    const points = scatter(count, random);
    for (let turn = 0; turn < 4; turn++) {
      const found = named(points);
      const all = bruteDistances(points, mesh);
      for (let i = 0; i < count; i++) {
        const one: TriangleMesh = {
          positions: mesh.positions,
          indices: mesh.indices.slice(3 * (found[i] ?? -1), 3 * (found[i] ?? -1) + 3),
        };
        const [distance = Number.NaN] = bruteDistances(points.subarray(3 * i, 3 * i + 3), one);
        expect(distance - (all[i] ?? 0)).toBeLessThan(2 * accuracy);
      }
      // The last turn throws them far off: what was near before is no help then.
      for (let k = 0; k < points.length; k++)
        points[k] = (points[k] ?? 0) + (turn < 2 ? 0.002 : 0.3) * (random() - 0.5);
    }
  });

  it('are none of an empty mesh, and none for no points', () => {
    expect(nearest(meshFrom([], []), 3).named(new Float64Array(9))).toEqual(new Int32Array(3).fill(-1));
    expect(nearest(boxMesh([0, 0, 0], [1, 1, 1]), 0).named(new Float64Array())).toEqual(new Int32Array());
  });
});
