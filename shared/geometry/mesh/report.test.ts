import { describe, expect, it } from 'vitest';
import { seededRandom } from '../random.ts';
import { massProperties } from './massProperties.ts';
import { meshReport } from './meshReport.ts';
import { repaired } from './repair.ts';
import { turnedMesh } from './rotation.ts';
import {
  ballMesh,
  bendMesh,
  boxMesh,
  flipped,
  moved,
  pipeMesh,
  shaken,
  torusMesh,
  unwelded,
} from './shapes.fixture.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import { joinMeshes, meshFault, meshFrom } from './triangleMesh.ts';
import { weldVertices } from './weld.ts';

const clean = {
  openEdges: 0,
  nonManifoldEdges: 0,
  flippedEdges: 0,
  selfIntersections: 0,
  selfIntersectionsComplete: true,
  degenerate: 0,
  duplicate: 0,
  holes: 0,
};

describe('mass properties against closed forms', () => {
  it.each([1e-3, 1, 1e3])('box, scaled by %s and far from the origin', (k) => {
    const [a, b, c] = [0.3 * k, 0.2 * k, 0.1 * k];
    const mesh = moved(boxMesh([a, b, c]), [k, -2 * k, 3 * k]);
    const { volume, area, centroid, inertia } = massProperties(mesh);
    expect(volume / (a * b * c)).toBeCloseTo(1, 12);
    expect(area / (2 * (a * b + b * c + c * a))).toBeCloseTo(1, 12);
    for (const [i, x] of [1.15, -1.9, 3.05].entries()) expect((centroid[i] ?? 0) / k).toBeCloseTo(x, 12);
    const moments = [b * b + c * c, a * a + c * c, a * a + b * b].map((s) => (volume * s) / 12);
    for (const [i, moment] of moments.entries()) expect((inertia[i] ?? 0) / moment).toBeCloseTo(1, 10);
    for (const i of [3, 4, 5]) expect((inertia[i] ?? 1) / (moments[0] ?? 1)).toBeCloseTo(0, 10);
  });

  it('sphere: the error of volume, area and inertia falls fourfold a halving', () => {
    const errors = [3, 4, 5].map((times) => {
      const { volume, area, inertia } = massProperties(ballMesh(0.05, times));
      const [v, a] = [(4 / 3) * Math.PI * 0.05 ** 3, 4 * Math.PI * 0.05 ** 2];
      return [1 - volume / v, 1 - area / a, 1 - inertia[0] / (0.4 * v * 0.05 ** 2)];
    });
    for (let n = 1; n < errors.length; n++) {
      for (let k = 0; k < 3; k++) {
        const ratio = (errors[n - 1]?.[k] ?? 0) / (errors[n]?.[k] ?? 1);
        expect(ratio).toBeGreaterThan(3.8);
        expect(ratio).toBeLessThan(4.2);
      }
    }
  });

  it('torus: Pappus, with the fraction that inscribed polygons lack', () => {
    const [ring, tube, around, section] = [0.08, 0.02, 360, 240];
    const { volume, area } = massProperties(torusMesh(ring, tube, { around, section }));
    const lack = ((2 * Math.PI) / section) ** 2 / 6 + ((2 * Math.PI) / around) ** 2 / 6;
    expect(volume / (2 * Math.PI * ring * Math.PI * tube ** 2)).toBeCloseTo(1 - lack, 5);
    expect(area / (2 * Math.PI * ring * 2 * Math.PI * tube)).toBeCloseTo(1 - lack / 2, 3);
  });

  it('inertia with products: a turned box gives the turned tensor (seed 4)', () => {
    const random = seededRandom(4);
    const mesh = boxMesh([0.3, 0.2, 0.1]);
    for (let n = 0; n < 20; n++) {
      const turn = [random() - 0.5, random() - 0.5, random() - 0.5, random() - 0.5] as const;
      const { inertia } = massProperties(turnedMesh(mesh, turn));
      const plain = massProperties(mesh).inertia;
      expect((inertia[0] + inertia[1] + inertia[2]) / (plain[0] + plain[1] + plain[2])).toBeCloseTo(1, 10);
      expect(determinant(inertia) / determinant(plain)).toBeCloseTo(1, 9);
    }
  });

  it('an empty mesh has nothing', () => {
    expect(massProperties(meshFrom([], []))).toMatchObject({ volume: 0, area: 0 });
  });
});

const determinant = ([xx, yy, zz, xy, yz, zx]: readonly [number, number, number, number, number, number]): number =>
  xx * (yy * zz - yz * yz) - xy * (xy * zz - yz * zx) + zx * (xy * yz - yy * zx);

describe('report', () => {
  it.each<[string, TriangleMesh, number]>([
    ['box', boxMesh([0.1, 0.2, 0.3]), 0.006],
    [
      'pipe',
      pipeMesh({ outer: 0.02, inner: 0.018 }, 0.1, 64),
      32 * Math.sin((2 * Math.PI) / 64) * (0.02 ** 2 - 0.018 ** 2) * 0.1,
    ],
    [
      'torus',
      torusMesh(0.08, 0.02, { around: 32, section: 16 }),
      massProperties(torusMesh(0.08, 0.02, { around: 32, section: 16 })).volume,
    ],
  ])('a clean %s', (_, mesh, volume) => {
    const report = meshReport(mesh);
    expect(report).toMatchObject({ ...clean, shells: [{ triangles: mesh.indices.length / 3 }] });
    expect(report.volume / volume).toBeCloseTo(1, 9);
    expect(report.shells[0]?.volume).toBeCloseTo(report.volume, 14);
  });

  it('a bend is clean and has the volume of Pappus', () => {
    const mesh = bendMesh({ bend: 0.06, outer: 0.021, inner: 0.0195 }, Math.PI / 2, { along: 90, facets: 240 });
    const report = meshReport(mesh);
    expect(report).toMatchObject(clean);
    expect(report.volume / (Math.PI * (0.021 ** 2 - 0.0195 ** 2) * 0.06 * (Math.PI / 2))).toBeCloseTo(1, 3);
  });

  it('a cavity and a second part: shells with signed volume', () => {
    const outside = boxMesh([0.1, 0.1, 0.1]);
    const cavity = flipped(boxMesh([0.05, 0.05, 0.05], [0.02, 0.02, 0.02]), () => true);
    const report = meshReport(joinMeshes([outside, cavity, boxMesh([0.02, 0.02, 0.02], [0.2, 0, 0])]));
    expect(report).toMatchObject(clean);
    expect(report.shells.map((s) => Math.round(s.volume * 1e9))).toEqual([1_000_000, -125_000, 8_000]);
    expect(report.volume).toBeCloseTo(0.001 - 0.000125 + 0.000008, 12);
  });

  it('two holes, their open edges', () => {
    const torus = torusMesh(0.08, 0.02, { around: 32, section: 16 });
    const indices = torus.indices.filter((_, i) => ![0, 1, 200].includes(Math.floor(i / 3)));
    const report = meshReport({ ...torus, indices });
    expect(report).toMatchObject({ ...clean, openEdges: 7, holes: 2 });
  });

  it('a vertex soup: every edge open, every triangle a shell', () => {
    const report = meshReport(unwelded(boxMesh([0.1, 0.1, 0.1])));
    expect(report).toMatchObject({ openEdges: 36, holes: 12 });
    expect(report.shells).toHaveLength(12);
  });

  it('degenerate faces are counted and give no edges when a vertex is named twice', () => {
    const box = boxMesh([0.1, 0.1, 0.1]);
    const mesh = meshFrom(
      [...box.positions, 0.1 / 3, 0.1 / 3, 0.1 / 3, 0.2 / 3, 0.2 / 3, 0.2 / 3, 0, 0, 0],
      [...box.indices, 3, 3, 5, 8, 9, 10],
    );
    expect(meshReport(mesh)).toMatchObject({ ...clean, degenerate: 2, openEdges: 3, holes: 1 });
  });

  it('duplicate faces, whichever way they turn', () => {
    const box = boxMesh([0.1, 0.1, 0.1]);
    const [a = 0, b = 0, c = 0] = box.indices;
    const report = meshReport(meshFrom(box.positions, [...box.indices, b, c, a, c, b, a]));
    expect(report).toMatchObject({ duplicate: 2, nonManifoldEdges: 3, selfIntersections: 3 });
  });

  it('a flipped face disturbs its three edges', () => {
    expect(meshReport(flipped(boxMesh([1, 1, 1]), (t) => t === 5))).toMatchObject({ ...clean, flippedEdges: 3 });
  });

  it('says when the search for crossings was stopped', () => {
    const two = joinMeshes([ballMesh(0.05, 3), moved(ballMesh(0.05, 3), [0.01, 0.012, 0.013])]);
    const full = meshReport(two);
    expect(full.selfIntersections).toBeGreaterThan(100);
    expect(meshReport(two, { maxPairs: 50 })).toMatchObject({
      selfIntersections: 50,
      selfIntersectionsComplete: false,
    });
    expect(meshReport(two, { maxTests: 10 }).selfIntersectionsComplete).toBe(false);
  });

  it('an empty mesh is empty', () => {
    expect(meshReport(meshFrom([], []))).toMatchObject({ ...clean, shells: [], volume: 0, area: 0 });
  });
});

describe('fault', () => {
  it.each<[string, TriangleMesh, string, RegExp]>([
    ['index', meshFrom([0, 0, 0], [0, 0, 1]), 'index', /below 1, triangle 0 names 1/],
    ['NaN', meshFrom([0, 0, 0, 1, Number.NaN, 0], []), 'not-finite', /vertex 1 has NaN/],
    ['Inf', meshFrom([0, 0, Number.NEGATIVE_INFINITY], []), 'not-finite', /vertex 0 has -Infinity/],
    ['ragged', meshFrom([0, 0, 0, 1], []), 'ragged', /in threes, got 4/],
    ['ragged triangles', meshFrom([0, 0, 0], [0, 0]), 'ragged', /in threes, got 2/],
  ])('%s', (_, mesh, kind, words) => {
    const fault = meshFault(mesh);
    expect(fault?.kind).toBe(kind);
    expect(fault?.message).toMatch(words);
  });

  it('none in a sound mesh', () => {
    expect(meshFault(boxMesh([1, 1, 1]))).toBeUndefined();
  });
});

describe('welding', () => {
  it('equal vertices only, minus zero included', () => {
    const soup = unwelded(boxMesh([0.1, 0.2, 0.3]));
    const { mesh, joined } = weldVertices({
      ...soup,
      positions: soup.positions.map((x, i) => (x === 0 && i % 2 ? -0 : x)),
    });
    expect(joined).toBe(28);
    expect(meshReport(mesh)).toMatchObject(clean);
  });

  it('jittered vertices all over the grid of cells come together (seed 11)', () => {
    const ball = ballMesh(0.05, 4);
    const soup = shaken(unwelded(ball), 1e-7, seededRandom(11));
    expect(meshReport(weldVertices(soup).mesh).openEdges).toBe(soup.indices.length);
    const { mesh, joined } = weldVertices(soup, 4e-7);
    expect(joined).toBe(soup.positions.length / 3 - ball.positions.length / 3);
    expect(meshReport(mesh)).toMatchObject(clean);
  });

  it('does not creep along a chain: each vertex stays within the tolerance of where it was', () => {
    const chain = Array.from({ length: 300 }, (_, i) => [i * 0.9e-6, 0, 0]).flat();
    const mesh = meshFrom(
      chain,
      Array.from({ length: 300 }, (_, i) => i),
    );
    const welded = weldVertices(mesh, 1e-6).mesh;
    expect(welded.positions.length / 3).toBe(150);
    mesh.indices.forEach((v, i) => {
      const now = welded.positions[3 * (welded.indices[i] ?? 0)] ?? 0;
      expect(Math.abs(now - (mesh.positions[3 * v] ?? 0))).toBeLessThanOrEqual(1e-6);
    });
  });
});

describe('repair', () => {
  it('does what is asked and no more', () => {
    const soup = unwelded(boxMesh([0.1, 0.2, 0.3]));
    const { mesh, account } = repaired(soup, {});
    expect(mesh).toEqual(soup);
    expect(account).toEqual({
      weldedVertices: 0,
      droppedDegenerate: 0,
      droppedDuplicate: 0,
      turnedTriangles: 0,
      unturnable: 0,
    });
  });

  it('puts together a shaken, partly flipped soup with doubles and slivers (seed 12)', () => {
    const random = seededRandom(12);
    const bend = bendMesh({ bend: 0.06, outer: 0.021, inner: 0.0195 }, 1.5, { along: 40, facets: 48 });
    const messy = flipped(bend, () => random() < 0.05);
    const with2 = meshFrom(messy.positions, [...messy.indices, ...messy.indices.slice(30, 60), 7, 7, 9]);
    const before = with2.indices.slice();
    const { mesh, account } = repaired(shaken(unwelded(with2), 1e-8, random), {
      weld: 1e-7,
      dropDegenerate: true,
      dropDuplicate: true,
      orient: true,
    });
    expect(account).toMatchObject({ droppedDegenerate: 1, droppedDuplicate: 10, unturnable: 0 });
    expect(account.turnedTriangles).toBeGreaterThan(100);
    expect(meshReport(mesh)).toMatchObject(clean);
    expect(massProperties(mesh).volume / massProperties(bend).volume).toBeCloseTo(1, 4);
    expect(with2.indices).toEqual(before);
  });

  it('turns outer shells outward and cavities inward, nested twice', () => {
    const nest = joinMeshes([0, 0.02, 0.04].map((d) => boxMesh([0.1 - 2 * d, 0.1 - 2 * d, 0.1 - 2 * d], [d, d, d])));
    const { mesh } = repaired(
      flipped(nest, (t) => t < 12 || t % 5 === 0),
      { orient: true },
    );
    expect(meshReport(mesh).shells.map((s) => Math.sign(s.volume))).toEqual([1, -1, 1]);
  });

  it('keeps what most of an open patch says', () => {
    const open = { ...boxMesh([1, 1, 1]), indices: boxMesh([1, 1, 1]).indices.slice(0, 27) };
    const { account } = repaired(
      flipped(open, (t) => t === 4),
      { orient: true },
    );
    expect(account.turnedTriangles).toBe(1);
  });

  it('says where a surface has one side only', () => {
    const strip = Array.from({ length: 12 }, (_, i) => {
      const u = (2 * Math.PI * i) / 12;
      return [-1, 1].flatMap((s) => {
        const r = 1 + 0.3 * s * Math.cos(u / 2);
        return [r * Math.cos(u), r * Math.sin(u), 0.3 * s * Math.sin(u / 2)];
      });
    }).flat();
    const indices = Array.from({ length: 12 }, (_, i) => {
      const [a, b] = [2 * i, 2 * i + 1];
      const [c, d] = i === 11 ? [1, 0] : [2 * i + 2, 2 * i + 3];
      return [a, b, c, b, d, c];
    }).flat();
    expect(repaired(meshFrom(strip, indices), { orient: true }).account.unturnable).toBeGreaterThan(0);
  });
});
