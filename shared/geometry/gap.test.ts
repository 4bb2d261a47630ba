import { describe, expect, it } from 'vitest';
import type { CentrelineNode } from './centreline.ts';
import { buildCentreline, pointAt, tangentAt } from './centreline.ts';
import { buildPointGrid, gridOfSorted, levelStarts } from './cloud.ts';
import { footOnCentreline } from './distance.ts';
import type { TubeReach } from './gap.ts';
import { pointsUnder, smallestGap } from './gap.ts';
import { inventedRunner } from './invent.ts';
import type { Random } from './random.ts';
import { seededRandom } from './random.ts';
import type { Vec3 } from './vector.ts';
import { along, distance, dot, norm, subtract } from './vector.ts';

function tube(nodes: readonly CentrelineNode[], outerRadius: number, fromS = 0): TubeReach {
  const centreline = buildCentreline(nodes);
  if (!centreline.ok) throw new Error('the generator made a bad runner');
  return { centreline, outerRadius, fromS };
}

const cloudAround = (random: Random, count: number): Float32Array =>
  Float32Array.from({ length: 3 * count }, (_, i) => (i % 3 === 2 ? random() - 0.3 : random() - 0.5) * 0.8);

/**
 * Distance from a point to a tube made of many discs, each exact: an oracle that shares no formula with the code but the disc.
 * Never too small; too large by at most about half a step squared over twice the distance.
 */
function toDiscs(reach: TubeReach, p: Vec3, steps: number): number {
  const { centreline, outerRadius, fromS } = reach;
  let best = Number.POSITIVE_INFINITY;
  for (let i = 0; i <= steps; i++) {
    const s = fromS + ((centreline.length - fromS) * i) / steps;
    const [centre, axis] = [pointAt(centreline, s), tangentAt(centreline, s)];
    const way = subtract(p, centre);
    const ahead = dot(way, axis);
    const off = Math.max(0, norm(along(way, axis, -ahead)) - outerRadius);
    best = Math.min(best, Math.hypot(ahead, off));
  }
  return best;
}

describe('smallest gap', () => {
  it('agrees with a brute force over all points and discs (seed 61, 25 clouds of 300 points)', () => {
    const random = seededRandom(61);
    for (let i = 0; i < 25; i++) {
      const reach = tube(inventedRunner(random, i % 6), 0.008 + 0.004 * random(), i % 2 ? 0.03 : 0);
      const points = cloudAround(random, 300);
      const found = smallestGap(reach, buildPointGrid(points, [0, 0, 0]));
      if (!found) throw new Error('no gap');
      let brute = Number.POSITIVE_INFINITY;
      for (let k = 0; k < 300; k++)
        brute = Math.min(
          brute,
          toDiscs(reach, [points[3 * k] ?? 0, points[3 * k + 1] ?? 0, points[3 * k + 2] ?? 0], 1200),
        );
      expect(Math.max(0, found.gap)).toBeLessThanOrEqual(brute + 1e-12);
      expect(brute - Math.max(0, found.gap)).toBeLessThan(3e-4);
      if (found.gap > 0) expect(distance(found.point, found.onTube)).toBeCloseTo(found.gap, 9);
      expect(distance(found.foot, pointAt(reach.centreline, found.s))).toBeLessThan(1e-9);
      expect(distance(found.foot, found.onTube)).toBeLessThanOrEqual(reach.outerRadius + 1e-9);
    }
  });

  it('equals the plain centreline distance less the radius beside the tube, to nine digits (seed 62, 20,000 points)', () => {
    const random = seededRandom(62);
    const reach = tube(inventedRunner(random, 5), 0.01);
    const points = cloudAround(random, 20_000);
    const found = smallestGap(reach, buildPointGrid(points, [0, 0, 0]));
    let brute = Number.POSITIVE_INFINITY;
    for (let k = 0; k < 20_000; k++) {
      const p: Vec3 = [points[3 * k] ?? 0, points[3 * k + 1] ?? 0, points[3 * k + 2] ?? 0];
      const foot = footOnCentreline(reach.centreline, p);
      if (foot && foot.s > 0 && foot.s < reach.centreline.length) brute = Math.min(brute, foot.distance - 0.01);
    }
    expect(brute).toBeLessThan(0);
    expect(found?.gap).toBeCloseTo(brute, 9);
  });

  const bar = tube(
    [
      { x: 0, y: 0, z: 0, radius: 0 },
      { x: 1, y: 0, z: 0, radius: 0 },
    ],
    0.02,
    0.1,
  );
  const gapAt = (p: Vec3) => smallestGap(bar, buildPointGrid(Float32Array.from([0, 0, 0]), p));
  it.each<[string, Vec3, number, Vec3]>([
    ['beside', [0.5, 0.05, 0], 0.03, [0.5, 0.02, 0]],
    ['inside', [0.5, 0.005, 0], -0.015, [0.5, 0.02, 0]],
    ['before the cut, on the axis', [0.04, 0, 0], 0.06, [0.1, 0, 0]],
    ['before the cut, within the radius', [0.04, 0.01, 0], 0.06, [0.1, 0.01, 0]],
    ['before the cut, off to the side', [0.07, 0.06, 0], 0.05, [0.1, 0.02, 0]],
    ['past the end', [1.3, 0.42, 0], 0.5, [1, 0.02, 0]],
  ])('has flat ends: a point %s', (_, p, gap, onTube) => {
    const found = gapAt(p);
    expect(found?.gap).toBeCloseTo(gap, 12);
    expect(distance(found?.onTube ?? [9, 9, 9], onTube)).toBeLessThan(1e-9);
  });

  it('keeps full accuracy far from the world origin', () => {
    const far: Vec3 = [4000, -2500, 120];
    const reach = tube(
      [
        { x: 4000, y: -2500, z: 120, radius: 0 },
        { x: 4001, y: -2500, z: 120, radius: 0 },
      ],
      0.02,
    );
    const grid = buildPointGrid(Float32Array.from([0.5, 0.0303, 0, 0.1, 0.9, 0.2]), far);
    expect(smallestGap(reach, grid)?.gap).toBeCloseTo(0.0103, 8);
  });

  it('has no answer for an empty scan or a cut past the end', () => {
    expect(smallestGap(bar, buildPointGrid(new Float32Array(0), [0, 0, 0]))).toBeUndefined();
    expect(smallestGap({ ...bar, fromS: 1 }, buildPointGrid(new Float32Array(3), [0, 0, 0]))).toBeUndefined();
  });
});

describe('points under a limit', () => {
  it('finds exactly the points that brute force finds (seed 63)', () => {
    const random = seededRandom(63);
    const reach = tube(inventedRunner(random, 4), 0.012);
    const points = cloudAround(random, 8000);
    const grid = buildPointGrid(points, [0, 0, 0]);
    let brute = 0;
    for (let k = 0; k < 8000; k++) {
      const one = buildPointGrid(points.slice(3 * k, 3 * k + 3), [0, 0, 0]);
      if ((smallestGap(reach, one)?.gap ?? 9) < 0.03) brute++;
    }
    const all = pointsUnder(reach, grid, { limit: 0.03, max: 1e9 });
    expect(brute).toBeGreaterThan(20);
    expect(all.total).toBe(brute);
    expect(all.points).toHaveLength(3 * brute);
    expect(Math.max(...all.gaps)).toBeLessThan(0.03);
    const some = pointsUnder(reach, grid, { limit: 0.03, max: 10 });
    expect([some.total, some.gaps.length]).toEqual([brute, 10]);
  });
});

describe('grid', () => {
  it.each([0, 1, 31, 32, 33, 256, 257, 5000])(
    'keeps every one of %d points, each inside the boxes above it',
    (count) => {
      const random = seededRandom(count);
      const points = cloudAround(random, count);
      const grid = buildPointGrid(points, [0, 0, 0]);
      const rows = (a: Float32Array) =>
        Array.from({ length: count }, (_, i) => a.subarray(3 * i, 3 * i + 3).join(' ')).sort();
      expect(rows(grid.positions)).toEqual(rows(points));
      expect(grid.boxes).toHaveLength(6 * (levelStarts(count).at(-1) ?? 0));
      const top = grid.boxes.subarray(grid.boxes.length - 6);
      for (let i = 0; i < 3 * count; i++) {
        expect(grid.positions[i]).toBeGreaterThanOrEqual(top[i % 3] ?? 9);
        expect(grid.positions[i]).toBeLessThanOrEqual(top[3 + (i % 3)] ?? -9);
      }
      expect(gridOfSorted(grid.positions, grid.origin).boxes).toEqual(grid.boxes);
    },
  );

  it('puts neighbours together: blocks are small against the cloud', () => {
    const grid = buildPointGrid(cloudAround(seededRandom(5), 20_000), [0, 0, 0]);
    const longest: number[] = [];
    for (let b = 0; b < 20_000 / 32; b++) {
      const [x0 = 0, y0 = 0, z0 = 0, x1 = 0, y1 = 0, z1 = 0] = grid.boxes.subarray(6 * b, 6 * b + 6);
      longest.push(Math.max(x1 - x0, y1 - y0, z1 - z0));
    }
    longest.sort((a, b) => a - b);
    expect(longest[Math.floor(longest.length / 2)]).toBeLessThan(0.8 / 3);
  });

  it('takes points that all lie in one place', () => {
    const grid = buildPointGrid(new Float32Array(300).fill(0.25), [0, 0, 0]);
    expect(grid.count).toBe(100);
    expect(Array.from(grid.boxes.subarray(grid.boxes.length - 6))).toEqual([0.25, 0.25, 0.25, 0.25, 0.25, 0.25]);
  });
});
