import { describe, expect, it } from 'vitest';
import { buildCentreline } from '../../../shared/geometry/centreline.ts';
import { buildPointGrid } from '../../../shared/geometry/cloud.ts';
import type { TubeReach } from '../../../shared/geometry/gap.ts';
import { seededRandom } from '../../../shared/geometry/random.ts';
import { extentsOf } from './extents.ts';
import { nearestOther } from './neighbour.ts';
import { spacingOf } from './spacing.ts';

function runner(fromS = 0): TubeReach {
  const line = buildCentreline([
    { x: 0, y: 0, z: 0, radius: 0 },
    { x: 0.3, y: 0, z: 0, radius: 0 },
  ]);
  if (!line.ok) throw new Error(line.code);
  return { centreline: line, outerRadius: 0.02, fromS };
}

/** Points on a net over the plane z = 50 mm, `step` apart. */
function net(step: number, wide = 0.4): Float32Array {
  const out: number[] = [];
  for (let x = -0.05; x < wide - 0.05; x += step) for (let y = -0.2; y < 0.2; y += step) out.push(x, y, 0.05);
  return Float32Array.from(out);
}

/** So many points at random on the same plane. */
function strewn(count: number, seed: number): Float32Array {
  const random = seededRandom(seed);
  return Float32Array.from({ length: 3 * count }, (_, i) =>
    i % 3 === 0 ? -0.05 + 0.4 * random() : i % 3 === 1 ? -0.2 + 0.4 * random() : 0.05,
  );
}

describe('nearest other point', () => {
  it('is what looking at all of them gives (seed 61)', () => {
    const random = seededRandom(61);
    const points = Float32Array.from({ length: 3 * 2000 }, () => random() * 0.3);
    // Some at the very same place.
    points.copyWithin(30, 0, 30);
    const grid = buildPointGrid(points, [1, 2, 3]);
    const p = grid.positions;
    for (let i = 0; i < 2000; i += 37) {
      let least = Number.POSITIVE_INFINITY;
      for (let k = 0; k < 6000; k += 3) {
        const far = Math.hypot(...[0, 1, 2].map((axis) => (p[k + axis] ?? 0) - (p[3 * i + axis] ?? 0)));
        if (far > 0) least = Math.min(least, far);
      }
      expect(nearestOther(grid, i)).toBeCloseTo(least, 12);
    }
  });

  it('is infinite when there is none', () => {
    expect(nearestOther(buildPointGrid(Float32Array.of(1, 1, 1), [0, 0, 0]), 0)).toBe(Number.POSITIVE_INFINITY);
    expect(nearestOther(buildPointGrid(Float32Array.of(1, 1, 1, 1, 1, 1), [0, 0, 0]), 1)).toBe(
      Number.POSITIVE_INFINITY,
    );
  });
});

describe('spacing', () => {
  it.each([0.0007, 0.0015, 0.004])('of a net is its step: %d m', (step) => {
    const grid = buildPointGrid(net(step), [0, 0, 0]);
    const found = spacingOf(grid, [runner()], 0.06);
    expect(found.median).toBeCloseTo(step, 7);
    expect(found.cover).toBe(0);
    // The plane is 30 mm off the tube's side: within 60 mm of it lies a strip of 2 sqrt(80^2 - 50^2) mm along it.
    const strip = 2 * Math.sqrt(0.08 ** 2 - 0.05 ** 2);
    expect((found.near * step * step) / (strip * 0.3)).toBeGreaterThan(1);
    expect((found.near * step * step) / (strip * 0.4)).toBeLessThan(1.02);
  });

  it('of points strewn at random is 0.47 of the side of the square that each has (Clark and Evans 1954, from memory)', () => {
    const count = 60_000;
    const { median, near, measured } = spacingOf(buildPointGrid(strewn(count, 62), [0, 0, 0]), [runner()], 0.06);
    const side = Math.sqrt((0.4 * 0.4) / count);
    expect(median / side).toBeGreaterThan(0.4697 * 0.98);
    expect(median / side).toBeLessThan(0.4697 * 1.02);
    expect(measured).toBe(Math.min(near, 20_000));
  });

  it('counts points within reach of any tube once, from where the tube counts', () => {
    const grid = buildPointGrid(net(0.004), [0, 0, 0]);
    const one = spacingOf(grid, [runner()], 0.06);
    expect(spacingOf(grid, [runner(), runner()], 0.06).near).toBe(one.near);
    expect(spacingOf(grid, [runner(0.2)], 0.06).near).toBeLessThan(0.6 * one.near);
    expect(spacingOf(grid, [runner()], 0.029)).toMatchObject({ near: 0, measured: 0, median: 0 });
  });

  it('says the cover of a sampled surface, and takes points at one place for one', () => {
    const twice = new Float32Array([...net(0.004), ...net(0.004)]);
    const found = spacingOf(buildPointGrid(twice, [0, 0, 0], 0.0009), [runner()], 0.06);
    expect(found.median).toBeCloseTo(0.004, 7);
    expect(found.cover).toBe(0.0009);
  });

  it('finds nothing among points that are all at one place', () => {
    const grid = buildPointGrid(new Float32Array(300).fill(0.05), [0, 0, 0]);
    expect(spacingOf(grid, [runner()], 0.06)).toMatchObject({ near: 100, measured: 0, median: 0 });
  });
});

it('extents are those of the points, from the origin on', () => {
  const random = seededRandom(63);
  const points = Float32Array.from({ length: 3 * 5000 }, () => random());
  points.set([-0.5, 2, 3, 4, -5, 6.5], 300);
  const { least, greatest, points: count } = extentsOf(buildPointGrid(points, [10, 20, 30]));
  expect(least[0]).toBeCloseTo(9.5, 6);
  expect(least[1]).toBeCloseTo(15, 6);
  expect(greatest).toEqual([14, 22, 36.5]);
  expect(count).toBe(5000);
});
