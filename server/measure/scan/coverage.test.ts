import { describe, expect, it } from 'vitest';
import { buildCentreline } from '../../../shared/geometry/centreline.ts';
import { buildPointGrid } from '../../../shared/geometry/cloud.ts';
import type { TubeReach } from '../../../shared/geometry/gap.ts';
import { sampleCylinder, sampleSheet } from '../../../shared/geometry/generate.ts';
import { seededRandom } from '../../../shared/geometry/random.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import { coverageOf } from './coverage.ts';

/** A straight runner along x from 0 to 300 mm, 40 mm across. */
function runner(y = 0, radius = 0.02): TubeReach {
  const line = buildCentreline([
    { x: 0, y, z: 0, radius: 0 },
    { x: 0.3, y, z: 0, radius: 0 },
  ]);
  if (!line.ok) throw new Error(line.code);
  return { centreline: line, outerRadius: radius, fromS: 0 };
}

const REACH = 0.06;
const clean = { spacing: 0.001, sigma: 0 };
const noisy = { spacing: 0.0015, sigma: 0.00035 };

function coverage(points: Float32Array | readonly Float32Array[], tubes: readonly TubeReach[] = [runner()]) {
  const all = points instanceof Float32Array ? [points] : points;
  const made = coverageOf(
    all.map((one) => buildPointGrid(one, [0, 0, 0])),
    tubes,
    REACH,
  );
  if (!made.ok) throw new Error(made.problem.message);
  return made.result;
}

/** The points that are kept. */
function without(points: Float32Array, gone: (x: number, y: number, z: number) => boolean): Float32Array {
  const kept: number[] = [];
  for (let i = 0; i < points.length; i += 3) {
    const [x = 0, y = 0, z = 0] = points.subarray(i, i + 3);
    if (!gone(x, y, z)) kept.push(x, y, z);
  }
  return Float32Array.from(kept);
}

/** A bore of 120 mm around the runner and beyond its ends: every look ends on it. */
const bore = (sampling = clean) =>
  sampleCylinder({ from: [-0.05, 0, 0], to: [0.35, 0, 0], radius: 0.06, caps: false }, sampling, seededRandom(51));
const whole = 2 * Math.PI * 0.06 * 0.3;

describe('coverage', () => {
  it.each([
    ['clean', clean],
    ['noisy and coarser', noisy],
  ])('of a bore all around is whole: %s', (_, sampling) => {
    const { seen, gap, open } = coverage(bore(sampling));
    expect(gap).toBe(0);
    expect(open).toBe(0);
    // A station more than there are steps between them.
    expect(seen / whole).toBeCloseTo(1, 1);
  });

  it.each([
    ['along', 0.03, 0.5],
    ['around', 0.12, 0.5],
    ['both', 0.035, 0.55],
  ])('tells a gap in it by its area: %s', (_, length, angle) => {
    const gone = (x: number, y: number, z: number) =>
      Math.abs(x - 0.15) < length / 2 && Math.abs(Math.atan2(z, y) - 1) < angle / 2;
    const result = coverage(without(bore(noisy), gone));
    // A look at the edge meets a cell with points or not: the gap reads wider or narrower by up to a cell on each side.
    const [least, most] = [-2, 2].map((cells) => ((length + 0.004 * cells) * (0.06 * angle + 0.004 * cells)) / whole);
    expect(result.gap / (result.seen + result.gap)).toBeLessThan(most ?? 0);
    expect(result.gap / (result.seen + result.gap)).toBeGreaterThan(least ?? 1);
    expect(result.open).toBeLessThan(0.001);
    const middle: Vec3 = [0.15, 0.06 * Math.cos(1), 0.06 * Math.sin(1)];
    for (const [axis, x] of middle.entries()) expect(Math.abs((result.at?.[axis] ?? 9) - x)).toBeLessThan(0.06);
  });

  it('takes a gap wider than 40 mm for free space, and says how much of the looks that are', () => {
    const result = coverage(
      without(bore(), (x, y, z) => Math.abs(x - 0.15) < 0.03 && Math.abs(Math.atan2(z, y) - 1) < 0.5),
    );
    // No more than the teeth of its edge.
    expect(result.gap / result.seen).toBeLessThan(0.001);
    expect(result.open).toBeCloseTo((0.06 / 0.3) * (1 / (2 * Math.PI)), 2);
  });

  it('takes the space between two hoses, and beyond the end of a sheet, for free', () => {
    const hose = (y: number) =>
      sampleCylinder(
        { from: [-0.02, y, 0.06], to: [0.32, y, 0.06], radius: 0.008, caps: false },
        noisy,
        seededRandom(52),
      );
    expect(coverage([hose(-0.015), hose(0.015)])).toMatchObject({ gap: 0, at: null });
    const sheet = sampleSheet(
      { corner: [0.05, -0.1, 0.05], edgeU: [0.1, 0, 0], edgeV: [0, 0.2, 0] },
      noisy,
      seededRandom(53),
    );
    const result = coverage(sheet);
    expect(result.gap).toBe(0);
    expect(result.open).toBeGreaterThan(0.8);
  });

  it('finds a hole in a sheet', () => {
    const sheet = sampleSheet(
      { corner: [-0.05, -0.15, 0.05], edgeU: [0.4, 0, 0], edgeV: [0, 0.3, 0] },
      noisy,
      seededRandom(54),
    );
    expect(coverage(sheet).gap).toBe(0);
    const { gap, at } = coverage(without(sheet, (x, y) => Math.hypot(x - 0.15, y) < 0.015));
    expect(gap).toBeGreaterThan(0.5 * Math.PI * 0.015 ** 2);
    expect(gap).toBeLessThan(1.1 * Math.PI * 0.015 ** 2);
    expect(Math.hypot((at?.[0] ?? 9) - 0.15, at?.[1] ?? 9)).toBeLessThan(0.012);
  });

  it('does not count looks that end on another runner, nor see what is behind it', () => {
    const alone = coverage(bore());
    const two = coverage(
      without(bore(), (_x, y) => y > 0.035),
      [runner(), runner(0.05, 0.02)],
    );
    // The other runner stands before the missing side: nothing of it is a gap or open from the first.
    expect(two.open).toBeLessThan(0.5);
    expect(two.seen).toBeLessThan(2 * alone.seen);
    expect(two.gap).toBe(0);
  });

  it('counts nothing where there is nothing, and refuses a header that no bay holds', () => {
    const far = Float32Array.of(5, 5, 5, 5, 5, 5.1);
    expect(coverage(far)).toEqual({ seen: 0, gap: 0, open: 1, at: null });
    const long = buildCentreline([
      { x: 0, y: 0, z: 0, radius: 0 },
      { x: 9, y: 9, z: 9, radius: 0 },
    ]);
    if (!long.ok) throw new Error(long.code);
    const tube = { centreline: long, outerRadius: 0.02, fromS: 0 };
    expect(coverageOf([buildPointGrid(far, [0, 0, 0])], [tube], REACH)).toMatchObject({
      ok: false,
      problem: { code: 'header-too-large' },
    });
  });
});
