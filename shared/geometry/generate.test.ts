import { describe, expect, it } from 'vitest';
import { buildCentreline } from './centreline.ts';
import { footOnCentreline } from './distance.ts';
import { joinPoints, sampleBox, sampleCylinder, sampleSheet, sampleTube } from './generate.ts';
import { inventedRunner } from './invent.ts';
import { gaussian, seededRandom } from './random.ts';
import type { Vec3 } from './vector.ts';

const pointsOf = (a: Float32Array): Vec3[] =>
  Array.from({ length: a.length / 3 }, (_, i): Vec3 => [a[3 * i] ?? 0, a[3 * i + 1] ?? 0, a[3 * i + 2] ?? 0]);
const sheet = { corner: [0, 0, 0.1], edgeU: [0.4, 0, 0], edgeV: [0, 0.2, 0] } as const;

describe('invented scans', () => {
  it('are the same for the same seed and differ for another', () => {
    const make = (seed: number) => sampleSheet(sheet, { spacing: 0.01, sigma: 1e-4 }, seededRandom(seed));
    expect(make(1)).toEqual(make(1));
    expect(make(1)).not.toEqual(make(2));
  });

  it('have the density asked for and the noise asked for (seed 71)', () => {
    const points = pointsOf(sampleSheet(sheet, { spacing: 0.002, sigma: 3.5e-4 }, seededRandom(71)));
    expect(points.length).toBeGreaterThan(19_000);
    expect(points.length).toBeLessThan(21_000);
    const off = points.map((p) => p[2] - 0.1);
    const sigma = Math.sqrt(off.reduce((sum, d) => sum + d * d, 0) / off.length);
    expect(sigma).toBeGreaterThan(3.4e-4);
    expect(sigma).toBeLessThan(3.6e-4);
  });

  it('leave round holes (seed 72)', () => {
    const full = sampleSheet(sheet, { spacing: 0.004, sigma: 0 }, seededRandom(72)).length / 3;
    const holed =
      sampleSheet(sheet, { spacing: 0.004, sigma: 0, holes: { count: 3, radius: 0.02 } }, seededRandom(72)).length / 3;
    const oneHole = (Math.PI * 0.02 ** 2) / 0.004 ** 2;
    expect(full - holed).toBeGreaterThan(0.5 * oneHole);
    expect(full - holed).toBeLessThan(3.3 * oneHole);
  });

  it('lie on the box, each face with its share (seed 73)', () => {
    const points = pointsOf(
      sampleBox({ centre: [1, 2, 3], size: [0.2, 0.3, 0.4] }, { spacing: 0.005, sigma: 0 }, seededRandom(73)),
    );
    const outside = points.map(([x, y, z]) =>
      Math.max(Math.abs(x - 1) - 0.1, Math.abs(y - 2) - 0.15, Math.abs(z - 3) - 0.2),
    );
    expect(Math.max(...outside.map(Math.abs))).toBeLessThan(1e-6);
    const top = points.filter((p) => Math.abs(p[2] - 3.2) < 1e-6).length;
    expect(Math.abs(top / points.length - 0.06 / (2 * (0.06 + 0.08 + 0.12)))).toBeLessThan(0.01);
  });

  it('lie on the bar and its faces (seed 74)', () => {
    const bar = { from: [0, 0, 0], to: [0, 0, 0.5], radius: 0.05, caps: true } as const;
    for (const [x, y, z] of pointsOf(sampleCylinder(bar, { spacing: 0.005, sigma: 0 }, seededRandom(74)))) {
      const [side, face] = [Math.abs(Math.hypot(x, y) - 0.05), Math.min(Math.abs(z), Math.abs(z - 0.5))];
      expect(Math.min(side, face)).toBeLessThan(1e-6);
    }
  });

  it('lie on the hose, all along and all around (seed 75)', () => {
    const centreline = buildCentreline(inventedRunner(seededRandom(75), 4));
    if (!centreline.ok) throw new Error('the generator made a bad runner');
    const points = pointsOf(sampleTube({ centreline, radius: 0.012 }, { spacing: 0.003, sigma: 0 }, seededRandom(76)));
    const feet = points.map((p) => footOnCentreline(centreline, p));
    for (const foot of feet) expect(Math.abs((foot?.distance ?? 9) - 0.012)).toBeLessThan(3e-5);
    const expected = (centreline.length * 2 * Math.PI * 0.012) / 0.003 ** 2;
    expect(Math.abs(points.length / expected - 1)).toBeLessThan(0.15);
    const stretch = (k: number) => feet.filter((f) => Math.floor(((f?.s ?? 0) / centreline.length) * 10) === k).length;
    for (let k = 0; k < 10; k++) expect(Math.abs((stretch(k) / points.length) * 10 - 1)).toBeLessThan(0.35);
  });

  it('join in order', () => {
    expect(joinPoints([Float32Array.of(1, 2, 3), new Float32Array(0), Float32Array.of(4, 5, 6)])).toEqual(
      Float32Array.of(1, 2, 3, 4, 5, 6),
    );
  });
});

describe('random numbers', () => {
  it('are even and normal (seed 77, 40,000 draws)', () => {
    const random = seededRandom(77);
    const even = Array.from({ length: 40_000 }, random);
    expect(Math.abs(even.reduce((a, b) => a + b, 0) / 40_000 - 0.5)).toBeLessThan(0.005);
    expect(even.every((x) => x >= 0 && x < 1)).toBe(true);
    const normal = Array.from({ length: 40_000 }, () => gaussian(random));
    expect(Math.abs(normal.reduce((a, b) => a + b, 0) / 40_000)).toBeLessThan(0.02);
    expect(Math.abs(normal.reduce((a, b) => a + b * b, 0) / 40_000 - 1)).toBeLessThan(0.03);
  });
});
