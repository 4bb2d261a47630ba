import { expect, it } from 'vitest';
import { buildCentreline } from '../../../shared/geometry/centreline.ts';
import { joinMeshes, meshFrom, type TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { thinnestWall } from '../../../shared/geometry/mesh/wallThickness.ts';
import { sweepTube } from '../../../shared/geometry/sweep.ts';
import { wallRays } from './wall-rays.ts';

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
