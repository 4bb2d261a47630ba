import { describe, expect, it } from 'vitest';
import { buildPointGrid } from '../../../shared/geometry/cloud.ts';
import { deviationsFrom } from '../../../shared/geometry/fit/deviations.ts';
import { STAY } from '../../../shared/geometry/fit/roughFit.ts';
import { bendMesh, boxMesh, moved } from '../../../shared/geometry/mesh/shapes.fixture.ts';
import { sampleSurface } from '../../../shared/geometry/mesh/surfaceSamples.ts';
import { joinMeshes, type TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { triangleTree } from '../../../shared/geometry/mesh/triangleTree.ts';
import { type Motion, movedBy } from '../../../shared/geometry/motion.ts';
import { gaussian, seededRandom } from '../../../shared/geometry/random.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import { deviationOf } from './deviation.ts';

const piece: TriangleMesh = joinMeshes([
  bendMesh({ bend: 0.07, outer: 0.0212, inner: 0.0192 }, 1.4, { along: 40, facets: 48 }),
  moved(boxMesh([0.08, 0.008, 0.06]), [0.03, -0.008, -0.03]),
  moved(boxMesh([0.015, 0.012, 0.02]), [0.1, -0.006, 0.02]),
]);
const tree = triangleTree(piece);

/** The surface with noise, and where a motion has it; `lump` metres out on one point of a hundred. */
function scan({
  sigma = 0,
  motion,
  lump = 0,
  origin = [0, 0, 0],
}: {
  sigma?: number;
  motion?: Motion;
  lump?: number;
  origin?: Vec3;
}) {
  const random = seededRandom(95);
  const { count, places, normals } = sampleSurface(tree, 0.002);
  const points = new Float32Array(3 * count);
  for (let i = 0; i < count; i++) {
    const off = sigma * gaussian(random) + (i % 100 === 0 ? lump : 0);
    const on = (k: number): number => {
      const n = [0, 1, 2].map((j) => normals[3 * i + j] ?? 0);
      return (places[3 * i + k] ?? 0) + (off * (n[k] ?? 0)) / Math.hypot(...n);
    };
    const p: Vec3 = [on(0), on(1), on(2)];
    const [x, y, z] = motion ? movedBy(motion, p) : p;
    points.set([x - origin[0], y - origin[1], z - origin[2]], 3 * i);
  }
  return buildPointGrid(points, origin);
}

function result(...asked: Parameters<typeof deviationOf>) {
  const made = deviationOf(...asked);
  if (!made.ok) throw new Error(made.problem.message);
  return made.result;
}

/** Half a turn about a slanted axis, 2 m away. */
const away: Motion = {
  rotation: [
    [-1 / 9, 4 / 9, 8 / 9],
    [4 / 9, -7 / 9, 4 / 9],
    [8 / 9, 4 / 9, -1 / 9],
  ],
  translation: [1.5, -2, 0.25],
};

describe('the scan of a piece against its model', () => {
  it('as placed: a scan that lies right shows its noise', () => {
    const { points, compared, mean, deviation, size95, before, rms } = result(
      scan({ sigma: 60e-6 }),
      piece,
      'as-placed',
    );
    expect(compared).toBe(points);
    expect(Math.abs(mean)).toBeLessThan(5e-6);
    expect(deviation / 60e-6).toBeCloseTo(1, 1);
    // 95 % of a normal distribution lie within 1.96 sigma.
    expect(size95 / (1.96 * 60e-6)).toBeCloseTo(1, 1);
    expect(before).toEqual({ rms, size95 });
  });

  it('as placed: a shift of the whole piece is seen', () => {
    const shifted: Motion = {
      rotation: [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ],
      translation: [0, 0, 0.0008],
    };
    const { largest, size95 } = result(scan({ motion: shifted }), piece, 'as-placed');
    expect(largest).toBeCloseTo(0.0008, 6);
    expect(size95).toBeGreaterThan(0.00075);
  });

  it.each([
    [
      'near by',
      {
        rotation: [
          [1, 0, 0],
          [0, 1, 0],
          [0, 0, 1],
        ],
        translation: [0.0004, -0.0003, 0.0008],
      },
      [0, 0, 0],
    ],
    ['in another frame', away, [1.5, -2, 0.25]],
  ] as const)('best fit: the same shift is gone, and the noise is left: %s', (_, motion, origin) => {
    const { size95, before, mean } = result(
      scan({ sigma: 60e-6, motion: motion as Motion, origin: [...origin] }),
      piece,
      'best-fit',
    );
    expect(size95 / (1.96 * 60e-6)).toBeCloseTo(1, 1);
    expect(Math.abs(mean)).toBeLessThan(5e-6);
    expect(before.size95).toBeGreaterThan(5 * size95);
  });

  it('shows the largest deviation and where it is on the model, after a fit too', () => {
    const { largest, at } = result(scan({ motion: away, lump: 0.002, origin: [1.5, -2, 0.25] }), piece, 'best-fit');
    expect(largest).toBeGreaterThan(0.0018);
    expect(largest).toBeLessThan(0.0022);
    expect(at[0]).toBeGreaterThan(-0.03);
    expect(at[0]).toBeLessThan(0.13);
  });

  it.each([
    ['no points', buildPointGrid(new Float32Array(), [0, 0, 0]), piece],
    ['one point', buildPointGrid(Float32Array.of(0, 0, 0), [0, 0, 0]), piece],
    ['no triangles', scan({}), { positions: new Float64Array(), indices: new Uint32Array() }],
  ])('refuses %s', (_, grid, mesh) => {
    for (const fit of ['as-placed', 'best-fit'] as const)
      expect(deviationOf(grid, mesh, fit)).toMatchObject({ ok: false, problem: { code: 'empty' } });
  });
});

it('by the kernel is what it is triangle by triangle', () => {
  const grid = scan({ sigma: 3e-5, lump: 0.002 });
  const points = Float64Array.from(grid.positions);
  const { signed } = deviationsFrom(tree, points, STAY);
  const rms = Math.sqrt(signed.reduce((sum, one) => sum + one * one, 0) / signed.length);
  const found = result(grid, piece, 'as-placed');
  expect(found.compared).toBe(signed.length);
  expect(found.rms / rms).toBeCloseTo(1, 6);
  expect(Math.abs(found.largest) / signed.reduce((most, one) => Math.max(most, Math.abs(one)), 0)).toBeCloseTo(1, 6);
});
