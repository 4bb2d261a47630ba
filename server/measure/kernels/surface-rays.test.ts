import { describe, expect, it } from 'vitest';
import { buildCentreline } from '../../../shared/geometry/centreline.ts';
import { smallestInnerGap } from '../../../shared/geometry/mesh/gapInside.ts';
import {
  ballMesh,
  bendMesh,
  flipped,
  moved,
  pipeMesh,
  torusMesh,
} from '../../../shared/geometry/mesh/shapes.fixture.ts';
import { sampleSurface } from '../../../shared/geometry/mesh/surfaceSamples.ts';
import { joinMeshes, meshFrom, type TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { triangleTree } from '../../../shared/geometry/mesh/triangleTree.ts';
import { thinnestWall, wallWidths } from '../../../shared/geometry/mesh/wallThickness.ts';
import { sweepTube } from '../../../shared/geometry/sweep.ts';
import { boxMesh } from '../../../tests/support/boxMesh.ts';
import { isFault } from './clearance.ts';
import { openRays } from './ray-kernel.ts';
import { gapRays, wallRays } from './surface-rays.ts';

/** A bent pipe as two skins, the inner one looking in. */
function pipe(outer: number, inner: number): TriangleMesh {
  const line = buildCentreline([
    { x: 0, y: 0, z: 0, radius: 0 },
    { x: 0, y: 0.12, z: 0, radius: 0.05 },
    { x: 0.1, y: 0.12, z: 0.05, radius: 0 },
  ]);
  if (!line.ok) throw new Error(line.code);
  const skin = (radius: number) => sweepTube(line, { radius, maxChordError: 1e-5, facets: 60 });
  const [out, bore] = [skin(outer), skin(inner)];
  const turned = bore.indices.map((_, i) => bore.indices[i % 3 === 0 ? i : i % 3 === 1 ? i + 1 : i - 1] ?? 0);
  return joinMeshes([meshFrom(out.positions, out.indices), meshFrom(bore.positions, turned)]);
}

it('finds the same walls as ray by ray', () => {
  const mesh = pipe(0.0212, 0.0198);
  const [fast, slow] = [thinnestWall(mesh, { cast: wallRays(mesh) }), thinnestWall(mesh)];
  if (!fast || !slow) throw new Error('no wall was found');
  expect(Math.abs(fast.smallest - slow.smallest)).toBeLessThan(1e-6);
  expect(Math.abs(fast.p1 - slow.p1)).toBeLessThan(1e-6);
  expect(fast.unmeasured).toBeCloseTo(slow.unmeasured, 2);
  // A wall of 1.4 mm of 60 facets: 1.4 cos(pi / 60) = 1.398 mm.
  expect(fast.p1).toBeGreaterThan(0.00137);
  expect(fast.p1).toBeLessThan(0.001401);
});

/** Each with how far its widths may be off those found ball by ball, as a share: in a wall nothing, along a round bore the way to the same ball differs. */
const subjects: readonly (readonly [string, TriangleMesh, number])[] = [
  ['a bend', bendMesh({ bend: 0.06, outer: 0.021, inner: 0.0195 }, 1.5, { along: 30, facets: 48 }), 1e-5],
  ['a pipe with a wall of 0.1 mm', pipeMesh({ outer: 0.02, inner: 0.0199 }, 0.1, 64), 1e-4],
  [
    'a hollow ball out of centre',
    joinMeshes([ballMesh(0.05, 4), flipped(moved(ballMesh(0.046, 4), [0.002, 0.001, 0]), () => true)]),
    1e-3,
  ],
  ['a ring as thick as it is looked at', torusMesh(0.08, 0.004, { around: 60, section: 24 }), 1e-3],
  ['a box far from the zero', boxMesh([3.3, 0.2, 0.1], [3.301, 0.205, 0.108]), 1e-4],
];

describe.each([
  ['walls', wallRays, -1],
  ['gaps', gapRays, 1],
] as const)('%s', (_, raysOf, way) => {
  it.each(subjects)('of %s, place by place, are those found ray by ray and ball by ball', (_name, mesh, share) => {
    const tree = triangleTree(mesh);
    const samples = sampleSurface(tree, 0.002);
    const looked = { ...samples, normals: samples.normals.map((x) => -way * x) };
    const met = raysOf(mesh)(tree, samples, 0.01);
    if (!met?.rest) throw new Error('the kernels are not compiled');
    const [fast, slow] = [wallWidths(tree, looked, 0.01, met), wallWidths(tree, looked, 0.01)];
    const apart = Array.from(fast, (width, i) => Math.abs(width - (slow[i] ?? 0)) / (slow[i] ?? 0));
    expect(Array.from(fast, Number.isNaN)).toEqual(Array.from(slow, Number.isNaN));
    expect(Math.max(0, ...apart.filter((one) => !Number.isNaN(one)))).toBeLessThan(share);
  });
});

it('finds the same gap as ray by ray', () => {
  // A rod bent until its ends face each other: their planes go through the axis, so the inner rims are nearest.
  const ring = bendMesh({ bend: 0.03, outer: 0.008, inner: 0.006 }, 2 * Math.PI - 0.05, { along: 60, facets: 24 });
  const [fast, slow] = [smallestInnerGap(ring, { cast: gapRays(ring) }), smallestInnerGap(ring)];
  if (!fast || !slow) throw new Error('no gap was found');
  expect(fast.gap).toBeCloseTo(slow.gap, 9);
  expect(fast.gap / (2 * 0.022 * Math.sin(0.025))).toBeCloseTo(1, 1);
});

it('a ball that is not to be shrunk is left, and an empty mesh has none', () => {
  const box = boxMesh([0, 0, 0], [0.01, 0.02, 0.03]);
  const kernel = openRays(box);
  if (!kernel || isFault(kernel)) throw new Error('the kernels are not compiled');
  const rays = {
    places: Float64Array.of(0.005, 0.01, 0, 0.005, 0.01, 0, 0.005, 0.01, 0, 0.005, 0.01, 0, 0.005, 0.01, 0),
    directions: Float64Array.of(0, 0, 1, 0, 0, 1, 0, 0, 1, 0, 0, 1, 0, 0, 1),
    own: new Uint32Array(5),
  };
  // The sides stand 5 mm off: 6 and 8 mm shrink to that, 4 mm is free from the first, and of what is no radius comes nothing.
  const { before, triangles } = kernel.shrink(rays, Float32Array.of(0.006, 0.004, 0, Number.NaN, 0.008));
  expect(Array.from(triangles, (one) => one >= 0)).toEqual([true, false, false, false, true]);
  // Of the last step follows the radius it came to: half a side across, to a ten-thousandth.
  const rested = Array.from(before, (radius) => (0.005 ** 2 + radius ** 2) / (2 * radius));
  expect(rested[0]).toBeCloseTo(0.005, 6);
  expect(rested[4]).toBeCloseTo(0.005, 6);
  const none = openRays(meshFrom([], []));
  if (!none || isFault(none)) throw new Error('the kernels are not compiled');
  expect(none.shrink(rays, new Float32Array(5).fill(0.01)).triangles).toEqual(new Int32Array(5).fill(-1));
});
