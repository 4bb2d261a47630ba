import { describe, expect, it } from 'vitest';
import { buildCentreline } from '../centreline.ts';
import { massProperties } from './massProperties.ts';
import { meshReport } from './meshReport.ts';
import { sweptPipe } from './sweptPipe.ts';
import { triangleCount } from './triangleMesh.ts';
import { thinnestWall } from './wallThickness.ts';

const bent = buildCentreline([
  { x: 0, y: 0, z: 0, radius: 0 },
  { x: 0, y: 0.15, z: 0, radius: 0.06 },
  { x: 0.1, y: 0.2, z: 0.1, radius: 0.06 },
  { x: 0.1, y: 0.2, z: 0.3, radius: 0 },
]);
if (!bent.ok) throw new Error(bent.code);
const wall = { outer: 0.0212, inner: 0.0192 };

describe('the wall of a pipe', () => {
  it('is one closed surface turned outward', () => {
    const report = meshReport(sweptPipe(bent, { ...wall, maxChordError: 5e-5 }));
    expect(report).toMatchObject({
      openEdges: 0,
      nonManifoldEdges: 0,
      flippedEdges: 0,
      selfIntersections: 0,
      at: null,
    });
    expect(report.shells).toHaveLength(1);
    expect(report.volume).toBeGreaterThan(0);
  });

  it.each([1e-4, 2e-5, 5e-6])('has the metal of the round one within its chord error of %d m', (maxChordError) => {
    const round = Math.PI * (wall.outer ** 2 - wall.inner ** 2) * bent.length;
    const { volume } = massProperties(sweptPipe(bent, { ...wall, maxChordError }));
    expect(volume).toBeLessThan(round);
    // Facets stand off by two thirds of the chord error on average, outside and in the bore.
    expect((round - volume) / round).toBeLessThan((1.5 * maxChordError) / wall.outer);
  });

  it('is as thick as asked, facet over facet', () => {
    const thinnest = thinnestWall(sweptPipe(bent, { ...wall, maxChordError: 2e-5 }));
    expect(thinnest?.smallest).toBeGreaterThan(0.002 * (1 - 2e-5 / wall.outer) - 1e-6);
    expect(thinnest?.smallest).toBeLessThanOrEqual(0.002);
  });

  it('has a dozen sides at least', () => {
    const straight = buildCentreline([
      { x: 0, y: 0, z: 0, radius: 0 },
      { x: 0, y: 0, z: 0.1, radius: 0 },
    ]);
    if (!straight.ok) throw new Error(straight.code);
    // Two rings outside and two inside, closed both ways: eight triangles a side.
    expect(triangleCount(sweptPipe(straight, { ...wall, maxChordError: 0.01 }))).toBe(8 * 12);
  });
});
