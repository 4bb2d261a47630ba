import { describe, expect, it } from 'vitest';
import { bendMesh, boxMesh, moved, pipeMesh } from '../mesh/shapes.fixture.ts';
import { sampleSurface } from '../mesh/surfaceSamples.ts';
import type { TriangleMesh } from '../mesh/triangleMesh.ts';
import { joinMeshes } from '../mesh/triangleMesh.ts';
import { type TriangleTree, triangleTree } from '../mesh/triangleTree.ts';
import { type Motion, movedBy, undoing } from '../motion.ts';
import { gaussian, type Random, seededRandom } from '../random.ts';
import type { Vec3 } from '../vector.ts';
import { distance, rotate, unit } from '../vector.ts';
import { deviationsFrom } from './deviations.ts';
import { evenly, roughFit, STAY } from './roughFit.ts';
import { principalAxes, solveHeld } from './smallSystems.ts';
import { fitToSurface } from './surfaceFit.ts';

/** A bent pipe on a plate with an ear to one side: nothing about it looks the same from two sides. */
const piece = (): TriangleMesh =>
  joinMeshes([
    bendMesh({ bend: 0.07, outer: 0.0212, inner: 0.0192 }, 1.4, { along: 40, facets: 48 }),
    moved(boxMesh([0.08, 0.008, 0.06]), [0.03, -0.008, -0.03]),
    moved(boxMesh([0.015, 0.012, 0.02]), [0.1, -0.006, 0.02]),
  ]);
const tree = triangleTree(piece());

function drawn(random: Random, angle: number, reach: number): Motion {
  const axis = unit([gaussian(random), gaussian(random), gaussian(random)]);
  const columns = (
    [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const
  ).map((e) => rotate(e, axis, angle));
  const row = (k: 0 | 1 | 2): Vec3 => [columns[0]?.[k] ?? 0, columns[1]?.[k] ?? 0, columns[2]?.[k] ?? 0];
  const shift = (): number => reach * (2 * random() - 1);
  return { rotation: [row(0), row(1), row(2)], translation: [shift(), shift(), shift()] };
}

/** A scan of the outside as a motion moves it, with noise square to the surface. */
function scanned(
  of: TriangleTree,
  { motion, sigma, spacing = 0.003 }: { motion: Motion; sigma: number; spacing?: number },
  random: Random,
): Float64Array {
  const { count, places, normals } = sampleSurface(of, spacing);
  const out = new Float64Array(3 * count);
  for (let i = 0; i < count; i++) {
    const off = sigma * gaussian(random);
    const on = (k: number): number => (places[3 * i + k] ?? 0) + off * (normals[3 * i + k] ?? 0);
    out.set(movedBy(motion, [on(0), on(1), on(2)]), 3 * i);
  }
  return out;
}

/** How far off a motion puts the corners of the piece from where they belong, at most; metres. */
function miss(fit: Motion, truth: Motion): number {
  const corners: Vec3[] = [-0.03, 0.12].flatMap((x) =>
    [-0.02, 0.09].flatMap((y) => [-0.04, 0.04].map((z): Vec3 => [x, y, z])),
  );
  return Math.max(...corners.map((p) => distance(movedBy(fit, movedBy(truth, p)), p)));
}

const fine = { keep: 1, rounds: 60 };

describe('the fine fit, seed 91', () => {
  const random = seededRandom(91);

  it.each([
    [0.02, 0.001],
    [0.05, 0.002],
    [0.1, 0.003],
  ])('brings points turned by %d rad and shifted by up to %d m back onto the surface they are of', (angle, reach) => {
    const truth = drawn(random, angle, reach);
    const fit = fitToSurface(tree, scanned(tree, { motion: truth, sigma: 0 }, random), STAY, fine);
    expect(fit.settled).toBe(true);
    expect(fit.rms).toBeLessThan(1e-8);
    expect(miss(fit.motion, truth)).toBeLessThan(1e-7);
  });

  it('finds the motion through noise of 50 um to far less than the noise', () => {
    const truth = drawn(random, 0.04, 0.002);
    const fit = fitToSurface(tree, scanned(tree, { motion: truth, sigma: 50e-6 }, random), STAY, fine);
    expect(fit.rms).toBeGreaterThan(40e-6);
    expect(fit.rms).toBeLessThan(55e-6);
    expect(miss(fit.motion, truth)).toBeLessThan(15e-6);
  });

  it('goes by the nearest share of the points: a lump on the piece does not pull it', () => {
    const truth = drawn(random, 0.03, 0.001);
    const points = scanned(tree, { motion: truth, sigma: 20e-6 }, random);
    const lump = Math.floor(points.length / 3 / 20);
    for (let i = 0; i < lump; i++) points[3 * i] = (points[3 * i] ?? 0) + 0.004;
    const trimmed = fitToSurface(tree, points, STAY, { keep: 0.9, rounds: 60 });
    const pulled = fitToSurface(tree, points, STAY, fine);
    expect(miss(trimmed.motion, truth)).toBeLessThan(30e-6);
    expect(miss(pulled.motion, truth)).toBeGreaterThan(3 * miss(trimmed.motion, truth));
  });

  it('keeps still in directions that the surface leaves free', () => {
    // A long pipe without its ends: it may turn about its axis and slide along it.
    const pipe = triangleTree(pipeMesh({ outer: 0.02, inner: 0.018 }, 0.5, 240));
    const ring: number[] = [];
    for (let i = 0; i < 3000; i++) {
      const [u, z] = [2 * Math.PI * random(), 0.2 + 0.1 * random()];
      ring.push(0.0004 + 0.02 * Math.cos(u), 0.02 * Math.sin(u), z);
    }
    const { motion } = fitToSurface(pipe, Float64Array.from(ring), STAY, fine);
    const middle = movedBy(motion, [0.0004, 0, 0.25]);
    expect(Math.hypot(middle[0], middle[1])).toBeLessThan(5e-6);
    expect(Math.abs(middle[2] - 0.25)).toBeLessThan(1e-4);
    expect(Math.abs(motion.rotation[0][1])).toBeLessThan(0.01);
  });

  it('says when it has not come to rest', () => {
    const points = scanned(tree, { motion: drawn(random, 0.1, 0.003), sigma: 0 }, random);
    expect(fitToSurface(tree, points, STAY, { keep: 1, rounds: 1 }).settled).toBe(false);
  });
});

describe('the rough fit, seed 92', () => {
  const random = seededRandom(92);
  it.each(Array.from({ length: 12 }, (_, i) => i))(
    '%i: brings a scan that lies anywhere near enough for the fine one',
    () => {
      const truth = drawn(random, Math.PI * random(), 3);
      const points = scanned(tree, { motion: truth, sigma: 30e-6, spacing: 0.004 }, random);
      const fit = fitToSurface(tree, points, roughFit(tree, points), { keep: 0.95, rounds: 60 });
      expect(miss(fit.motion, truth)).toBeLessThan(40e-6);
    },
  );

  it('leaves a scan that lies right where it is', () => {
    const points = scanned(tree, { motion: STAY, sigma: 0 }, random);
    expect(miss(roughFit(tree, points), STAY)).toBeLessThan(1e-6);
  });
});

describe('deviations', () => {
  const box = triangleTree(boxMesh([0.1, 0.06, 0.02]));
  it('are the distances from a box, outside above and inside below zero', () => {
    const points = Float64Array.of(0.05, 0.03, 0.023, 0.05, 0.03, 0.019, -0.003, -0.004, 0.01, 0.1, 0.02, 0.01);
    const { signed, farthest } = deviationsFrom(box, points, STAY);
    expect([...signed].map((d) => Number(d.toFixed(12)))).toEqual([0.003, -0.001, 0.005, 0]);
    expect(farthest).toEqual([-0.003, -0.004, 0.01]);
  });

  it('are taken where the motion puts the points', () => {
    const lift: Motion = { rotation: STAY.rotation, translation: [0, 0, 0.0005] };
    const top = Float64Array.from(
      { length: 300 },
      (_, i) => [0.01 + 0.0008 * Math.floor(i / 3), 0.03, 0.02][i % 3] ?? 0,
    );
    expect([...deviationsFrom(box, top, lift).signed].every((d) => Math.abs(d - 0.0005) < 1e-12)).toBe(true);
    expect([...deviationsFrom(box, top, undoing(lift)).signed].every((d) => Math.abs(d + 0.0005) < 1e-12)).toBe(true);
  });

  it('of no points and from no surface are none', () => {
    expect(deviationsFrom(box, new Float64Array(), STAY)).toEqual({ signed: new Float64Array(), farthest: null });
    const nothing = triangleTree({ positions: new Float64Array(), indices: new Uint32Array() });
    expect(deviationsFrom(nothing, Float64Array.of(0, 0, 0), STAY).farthest).toBeNull();
  });
});

describe('small systems', () => {
  it('principal axes are unit, square to one another, and the matrix only stretches along them', () => {
    const m = [4, 1, -2, 1, 3, 0.5, -2, 0.5, 5];
    const axes = principalAxes(m);
    const values = axes.map((v) =>
      [0, 1, 2].map((i) => [0, 1, 2].reduce((sum, j) => sum + (m[3 * i + j] ?? 0) * (v[j] ?? 0), 0)),
    );
    const stretch = axes.map((v, k) => v.reduce((sum, x, i) => sum + x * (values[k]?.[i] ?? 0), 0));
    for (const [k, v] of axes.entries())
      for (const [i, x] of v.entries()) expect(values[k]?.[i]).toBeCloseTo((stretch[k] ?? 0) * x, 12);
    expect(stretch).toEqual([...stretch].sort((a, b) => b - a));
    expect(stretch.reduce((a, b) => a + b)).toBeCloseTo(12, 12);
  });

  it('solves what is held, and leaves a free direction at rest', () => {
    const b = Float64Array.of(6, 3);
    solveHeld(Float64Array.of(2, 1, 1, 3), b, 1e-15);
    expect([...b].map((x) => Number(x.toFixed(12)))).toEqual([3, 0]);
    const free = Float64Array.of(4, 0);
    solveHeld(Float64Array.of(2, 0, 0, 0), free, 1e-9);
    expect(free[0]).toBeCloseTo(2, 6);
    expect(free[1]).toBe(0);
  });

  it('evenly picked points keep their order and their ends', () => {
    const points = Float64Array.from({ length: 30 }, (_, i) => i);
    expect([...evenly(points, 5)]).toEqual([0, 1, 2, 6, 7, 8, 12, 13, 14, 18, 19, 20, 24, 25, 26]);
    expect([...evenly(points, 50)]).toEqual([...points]);
  });
});
