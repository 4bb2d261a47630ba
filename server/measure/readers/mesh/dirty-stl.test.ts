import { describe, expect, it } from 'vitest';
import { stlBytes } from '../../../../shared/geometry/mesh/exportStl.ts';
import type { MeshReport } from '../../../../shared/geometry/mesh/meshReport.ts';
import { meshReport } from '../../../../shared/geometry/mesh/meshReport.ts';
import { bendMesh, flipped, moved, shaken, unwelded } from '../../../../shared/geometry/mesh/shapes.fixture.ts';
import type { TriangleMesh } from '../../../../shared/geometry/mesh/triangleMesh.ts';
import { joinMeshes, triangleCount } from '../../../../shared/geometry/mesh/triangleMesh.ts';
import { seededRandom } from '../../../../shared/geometry/random.ts';
import { MM, problemOf, read } from './mesh-file.fixture.ts';

/* STL files as they come from elsewhere, each with one damage. What is wrong is reported by number; nothing is mended on the way in. */

const sound = bendMesh({ bend: 0.06, outer: 0.021, inner: 0.0195 }, 1.2, { along: 24, facets: 40 });
const count = triangleCount(sound);
const { volume } = meshReport(sound);

const withTriangles = (triangles: ArrayLike<number>): TriangleMesh => ({
  positions: sound.positions,
  indices: Uint32Array.from(triangles),
});

const reportOf = (mesh: TriangleMesh): MeshReport & { readonly triangles: number } => {
  const { mesh: taken } = read(stlBytes(mesh));
  return { ...meshReport(taken), triangles: triangleCount(taken) };
};

const clean = {
  triangles: count,
  openEdges: 0,
  nonManifoldEdges: 0,
  flippedEdges: 0,
  selfIntersections: 0,
  degenerate: 0,
  duplicate: 0,
  holes: 0,
};

/** Faces that do not touch each other. */
const isPicked = (triangle: number): boolean => triangle % 37 === 3;
const picked = Array.from(sound.indices).filter((_, i) => isPicked(Math.floor(i / 3)));

describe('an STL file is taken as it is and reported', () => {
  it('sound: nothing to say, one shell', () => {
    const report = reportOf(sound);
    expect(report).toMatchObject(clean);
    expect(report.shells).toHaveLength(1);
    expect(report.volume / volume).toBeCloseTo(1, 5);
  });

  it('every corner a hair from its neighbours: all edges are open', () => {
    const report = reportOf(shaken(unwelded(sound), 1e-7, seededRandom(81)));
    expect(report).toMatchObject({
      ...clean,
      openEdges: 3 * count,
      holes: count,
      selfIntersections: expect.any(Number),
    });
    expect(report.shells).toHaveLength(count);
  });

  it('some faces turned: three edges each disagree', () => {
    const turned = reportOf(flipped(sound, isPicked));
    expect(turned).toMatchObject({ ...clean, flippedEdges: picked.length });
    expect(turned.volume).toBeLessThan(volume);
  });

  it('some faces missing: holes, each with its open edges', () => {
    const open = Array.from(sound.indices).filter((_, i) => !isPicked(Math.floor(i / 3)));
    const report = reportOf(withTriangles(open));
    const holes = picked.length / 3;
    expect(report).toMatchObject({ ...clean, triangles: open.length / 3, openEdges: picked.length, holes });
    expect(report.at).not.toBeNull();
  });

  it('some faces twice: counted, and their edges have more than two', () => {
    const report = reportOf(withTriangles([...sound.indices, ...picked]));
    expect(report).toMatchObject({
      ...clean,
      triangles: count + picked.length / 3,
      duplicate: picked.length / 3,
      nonManifoldEdges: picked.length,
      selfIntersections: expect.any(Number),
    });
    expect(report.selfIntersections).toBeGreaterThanOrEqual(picked.length / 3);
  });

  it('faces without area: counted, and they leave no gap', () => {
    const flat = picked.flatMap((vertex, i) => (i % 3 === 0 ? [vertex, picked[i + 1] ?? 0, vertex] : []));
    const report = reportOf(withTriangles([...sound.indices, ...flat]));
    expect(report).toMatchObject({ triangles: count + flat.length / 3, degenerate: flat.length / 3, openEdges: 0 });
    expect(report.volume / volume).toBeCloseTo(1, 5);
  });

  it('inside out: closed, its volume below zero', () => {
    const report = reportOf(flipped(sound, () => true));
    expect(report).toMatchObject(clean);
    expect(report.volume / volume).toBeCloseTo(-1, 5);
  });

  it('several shells: each by itself', () => {
    const report = reportOf(joinMeshes([0, 0.1, 0.2].map((z) => moved(sound, [0, 0, z]))));
    expect(report).toMatchObject({ ...clean, triangles: 3 * count });
    expect(report.shells.map(({ triangles }) => triangles)).toEqual([count, count, count]);
  });

  it('one triangle: three open edges, one hole, no volume said to be enclosed', () => {
    const one = [0, 0, 0, 0.05, 0, 0, 0, 0.05, 0];
    const report = reportOf({ positions: Float64Array.from(one), indices: Uint32Array.of(0, 1, 2) });
    expect(report).toMatchObject({ ...clean, triangles: 1, openEdges: 3, holes: 1, volume: 0 });
  });
});

describe('an STL file that is no numbers is refused', () => {
  it.each([
    ['NaN', Number.NaN],
    ['Inf', Number.POSITIVE_INFINITY],
    ['minus Inf', Number.NEGATIVE_INFINITY],
  ])('%s in one corner: says how many and where', (_, odd) => {
    const bytes = stlBytes(sound);
    new DataView(bytes.buffer).setFloat32(84 + 50 * 17 + 12, odd, true);
    expect(problemOf(bytes, MM)).toMatchObject({
      code: 'not-finite',
      message: 'Expected finite coordinates; 1 are NaN or Inf, the first at triangle 18.',
    });
  });

  it('in a stated normal: they are not used, so the mesh is the same', () => {
    const bytes = stlBytes(sound);
    new DataView(bytes.buffer).setFloat32(84 + 50 * 17, Number.NaN, true);
    expect(read(bytes).mesh).toEqual(read(stlBytes(sound)).mesh);
  });

  it('2 GiB claimed in 200 bytes', () => {
    const bytes = stlBytes(sound).slice(0, 200);
    new DataView(bytes.buffer).setUint32(80, 42_949_672, true);
    expect(problemOf(bytes)).toMatchObject({ code: 'truncated', message: expect.stringContaining('the file has 200') });
  });
});
