import type { Manifold as Solid } from 'manifold-3d';
import start from 'manifold-3d';
import { describe, expect, it } from 'vitest';
import { massProperties } from './massProperties.ts';
import { meshReport } from './meshReport.ts';
import { ballMesh, bendMesh, boxMesh, flipped, moved, pipeMesh, torusMesh } from './shapes.fixture.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import { joinMeshes, meshFrom } from './triangleMesh.ts';

/* Checks against manifold-3d, which decides for itself what a solid is. It works in singles. */

const engine = await start();
engine.setup();

const solidOf = (mesh: TriangleMesh): Solid =>
  new engine.Manifold(
    new engine.Mesh({
      numProp: 3,
      vertProperties: Float32Array.from(mesh.positions),
      triVerts: Uint32Array.from(mesh.indices),
    }),
  );

const meshOf = (solid: Solid): TriangleMesh => {
  const { vertProperties, triVerts, numProp } = solid.getMesh();
  return meshFrom(
    vertProperties.filter((_, i) => i % numProp < 3),
    triVerts,
  );
};

const bend = bendMesh({ bend: 0.06, outer: 0.021, inner: 0.0195 }, 1.5, { along: 30, facets: 48 });
const outer = bendMesh({ bend: 0.06, outer: 0.021, inner: 0.001 }, 1.5, { along: 30, facets: 48 });

describe('what we call sound is a solid, with our volume and surface', () => {
  it.each<[string, TriangleMesh]>([
    ['bend', bend],
    ['pipe', pipeMesh({ outer: 0.02, inner: 0.018 }, 0.1, 64)],
    ['torus', torusMesh(0.08, 0.02, { around: 40, section: 20 })],
    ['hollow ball', joinMeshes([ballMesh(0.05, 4), flipped(ballMesh(0.04, 4), () => true)])],
  ])('%s', (_, mesh) => {
    const solid = solidOf(mesh);
    const { volume, area } = massProperties(mesh);
    expect(solid.status()).toBe('NoError');
    expect(solid.volume() / volume).toBeCloseTo(1, 5);
    expect(solid.surfaceArea() / area).toBeCloseTo(1, 5);
  });
});

describe('what it refuses, we report', () => {
  it.each<[string, TriangleMesh]>([
    ['a hole', { ...bend, indices: bend.indices.slice(3) }],
    ['a flipped face', flipped(bend, (t) => t === 100)],
  ])('%s', (_, mesh) => {
    expect(() => solidOf(mesh)).toThrow(/NotManifold|manifold/i);
    const { openEdges, flippedEdges } = meshReport(mesh);
    expect(openEdges + flippedEdges).toBe(3);
  });
});

describe('what it makes is sound to us', () => {
  it('a union and a difference: no crossing, closed, the volumes add up', () => {
    const [a, b] = [solidOf(outer), solidOf(moved(outer, [0.011, 0.007, 0.013]))];
    const [both, common, rest] = [a.add(b), a.intersect(b), a.subtract(solidOf(boxMesh([0.05, 0.05, 0.05])))];
    for (const solid of [both, common, rest]) {
      const report = meshReport(meshOf(solid));
      expect(report).toMatchObject({ openEdges: 0, nonManifoldEdges: 0, flippedEdges: 0 });
      expect(report.volume / solid.volume()).toBeCloseTo(1, 5);
    }
    const sum = meshReport(meshOf(both)).volume + meshReport(meshOf(common)).volume;
    expect(sum / (2 * massProperties(outer).volume)).toBeCloseTo(1, 5);
    expect(meshReport(joinMeshes([outer, moved(outer, [0.011, 0.007, 0.013])])).selfIntersections).toBeGreaterThan(100);
    expect(meshReport(meshOf(both)).selfIntersections).toBe(0);
  });
});
