import { describe, expect, it } from 'vitest';
import { seededRandom } from '../random.ts';
import { poseMeasures, searchPoses } from './buildPose.ts';
import { enclosedVolumes } from './enclosed.ts';
import { smallestInnerGap } from './gapInside.ts';
import { massProperties } from './massProperties.ts';
import { meshReport } from './meshReport.ts';
import { repaired } from './repair.ts';
import { bendMesh, boxMesh } from './shapes.fixture.ts';
import { torchAccess } from './torchAccess.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import { meshFault, meshFrom } from './triangleMesh.ts';
import { triangleTree } from './triangleTree.ts';
import { thinnestWall } from './wallThickness.ts';

const TORCH = { standOff: 0.002, cupRadius: 0.008, cupLength: 0.04, bodyRadius: 0.014, bodyLength: 0.126 };

/** Triangles without any order: needles, doubles, points on one line, one place or one plane, vertices named twice. */
function rubbish(seed: number): TriangleMesh {
  const random = seededRandom(seed);
  const vertices = 3 + Math.floor(60 * random());
  const squash = [1, 1e-3, 1e-9, 0, 1e-300].map((k) => k * 0.1);
  const positions = Array.from({ length: 3 * vertices }, (_, i) => {
    const kind = Math.floor(random() * 8);
    if (kind === 0) return 0;
    if (kind === 1) return 0.05;
    return (random() - 0.5) * (squash[(seed + i) % (1 + (seed % 5))] ?? 0.1);
  });
  const indices = Array.from({ length: 3 * Math.floor(200 * random()) }, () => Math.floor(vertices * random()));
  return meshFrom(positions, [...indices, ...indices.slice(0, 30)].slice(0, 3 * Math.floor((indices.length + 30) / 3)));
}

const numbersIn = (value: unknown): number[] => {
  if (typeof value === 'number') return [value];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(numbersIn) : [];
};

describe('nothing throws and nothing is NaN, whatever the triangles are', () => {
  it.each(Array.from({ length: 20 }, (_, i) => i + 100))('seed %s', (seed) => {
    const mesh = rubbish(seed);
    expect(meshFault(mesh)).toBeUndefined();
    const before = [mesh.positions.slice(), mesh.indices.slice()];
    const steps = { weld: 1e-6, dropDegenerate: true, dropDuplicate: true, orient: true };
    const mended = repaired(mesh, steps);
    const limit = { overhangAngle: Math.PI / 4 };
    const found = [
      meshReport(mesh),
      massProperties(mesh),
      mended.account,
      meshReport(mended.mesh),
      poseMeasures(mesh, [0.1, 0.2, 0.3, 0.4], limit),
      searchPoses(mesh, { ...limit, directions: 20, best: 2, bores: [[0, 0, 1]] }),
      thinnestWall(mesh, { spacing: 0.02 }),
      smallestInnerGap(mesh, { spacing: 0.02 }),
      enclosedVolumes(mesh, 0.01),
      torchAccess(triangleTree(mesh), [{ at: [0.01, 0.02, 0.03], away: [0, 0, 1] }], TORCH, { angle: 0.6, tries: 16 }),
    ];
    for (const number of numbersIn(found)) expect(Number.isFinite(number)).toBe(true);
    expect([mesh.positions, mesh.indices]).toEqual(before);
    expect(meshReport(mended.mesh)).toMatchObject({
      degenerate: 0,
      duplicate: 0,
      flippedEdges: mended.account.unturnable,
    });
  });
});

describe('lengths to measure by that are none', () => {
  const bend = bendMesh({ bend: 0.06, outer: 0.021, inner: 0.0195 }, 0.5, { along: 8, facets: 24 });

  it.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY])('%s counts as left out', (odd) => {
    expect(thinnestWall(bend, { limit: odd, spacing: odd })).toEqual(thinnestWall(bend));
    expect(smallestInnerGap(bend, { limit: odd, spacing: odd })).toEqual(smallestInnerGap(bend));
  });

  it('a spacing far too small ends, and so do columns', () => {
    expect(thinnestWall(boxMesh([0.1, 0.05, 0.002]), { spacing: 1e-300, limit: 0.0021 })?.p1).toBeCloseTo(0.002, 6);
    const { raster, supportToPart } = poseMeasures(bend, [0, 0, 0, 1], { overhangAngle: 0.7, raster: Number.NaN });
    expect(raster).toBeGreaterThanOrEqual(1e-6);
    expect(Number.isFinite(supportToPart)).toBe(true);
  });
});
