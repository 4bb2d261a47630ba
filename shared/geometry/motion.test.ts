import { describe, expect, it } from 'vitest';
import { buildPointGrid } from './cloud.ts';
import { after, cutGrid, type Motion, movedBy, movedGrid, undoing } from './motion.ts';
import { boxOf, cutScan, motionOf, placedScan, uploadedScan } from './placedScan.ts';
import { gaussian, type Random, seededRandom } from './random.ts';
import type { Vec3 } from './vector.ts';
import { distance, rotate, unit } from './vector.ts';

/** Any turn, and a shift of some metres. */
function drawn(random: Random): Motion {
  const axis = unit([gaussian(random), gaussian(random), gaussian(random)]);
  const angle = Math.PI * random();
  const columns = (
    [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const
  ).map((e) => rotate(e, axis, angle));
  const row = (k: 0 | 1 | 2): Vec3 => [columns[0]?.[k] ?? 0, columns[1]?.[k] ?? 0, columns[2]?.[k] ?? 0];
  return { rotation: [row(0), row(1), row(2)], translation: [4 * random() - 2, 4 * random() - 2, 4 * random() - 2] };
}
const place = (random: Random): Vec3 => [random(), random(), random()];

describe('motions, seed 17', () => {
  const random = seededRandom(17);
  it.each(Array.from({ length: 50 }, (_, i) => i))('%i: keep distances, are undone, and follow one another', () => {
    const [first, second, p, q] = [drawn(random), drawn(random), place(random), place(random)];
    expect(distance(movedBy(first, p), movedBy(first, q))).toBeCloseTo(distance(p, q), 12);
    expect(distance(movedBy(undoing(first), movedBy(first, p)), p)).toBeLessThan(1e-12);
    expect(distance(movedBy(after(second, first), p), movedBy(second, movedBy(first, p)))).toBeLessThan(1e-12);
  });

  it('a quarter turn about z turns x to y, then shifts', () => {
    const quarter: Motion = {
      rotation: [
        [0, -1, 0],
        [1, 0, 0],
        [0, 0, 1],
      ],
      translation: [1, 2, 3],
    };
    expect(movedBy(quarter, [5, 0, 0])).toEqual([1, 7, 3]);
    expect(movedBy(undoing(quarter), [1, 7, 3])).toEqual([5, 0, 0]);
  });

  it('a moved grid holds every point where the motion puts it, far from zero too', () => {
    const points = Float32Array.from({ length: 300 }, () => random());
    const origin: Vec3 = [4e5, -2e5, 100];
    const motion = drawn(random);
    const moved = movedGrid(buildPointGrid(points, origin, 0.002), motion);
    expect([moved.count, moved.cover]).toEqual([100, 0.002]);
    const places = Array.from({ length: 100 }, (_, i): Vec3 => {
      const [x = 0, y = 0, z = 0] = moved.positions.subarray(3 * i, 3 * i + 3);
      return [x + moved.origin[0], y + moved.origin[1], z + moved.origin[2]];
    });
    for (let i = 0; i < 100; i++) {
      const [x = 0, y = 0, z = 0] = points.subarray(3 * i, 3 * i + 3);
      const to = movedBy(motion, [x + origin[0], y + origin[1], z + origin[2]]);
      expect(Math.min(...places.map((p) => distance(p, to)))).toBeLessThan(1e-6);
    }
  });
});

describe('the name of a placed scan', () => {
  const scan = `${'ab'.repeat(32)}-mm`;
  it('says scan and motion exactly', () => {
    const motion = drawn(seededRandom(18));
    expect(motionOf(placedScan(scan, motion))).toEqual(motion);
    expect(uploadedScan(placedScan(scan, motion))).toBe(scan);
    const tiny: Motion = {
      rotation: [
        [1, -1e-17, 0],
        [1e-17, 1, 0],
        [0, 0, 1],
      ],
      translation: [0, 1e-9, -3.5],
    };
    expect(motionOf(placedScan(scan, tiny))).toEqual(tiny);
  });

  it('says the part of it that counts, with or without a motion', () => {
    const box = {
      least: [-0.5, Number.NEGATIVE_INFINITY, 1e-7],
      greatest: [0.25, Number.POSITIVE_INFINITY, 3],
    } as const;
    const motion = drawn(seededRandom(19));
    for (const whole of [scan, placedScan(scan, motion)]) {
      expect(boxOf(cutScan(whole, box))).toEqual(box);
      expect(boxOf(whole)).toBeUndefined();
      expect(motionOf(cutScan(whole, box))).toEqual(motionOf(whole));
      expect(uploadedScan(cutScan(whole, box))).toBe(scan);
    }
  });

  it.each([
    scan,
    `${scan}@`,
    `${scan}@1,0,0`,
    `${scan}@1,0,0,0,1,0,0,0,1,0,0,NaN`,
    `${scan}@1,0,0,0,1,0,0,0,1,0,0,x`,
    `${scan}#1,2,3,4,5`,
    '/data/a@b,c/#1/scan.grid',
  ])('that says neither is a name as it is: %s', (name) => {
    expect([motionOf(name), boxOf(name), uploadedScan(name)]).toEqual([undefined, undefined, name]);
  });
});

describe('a cut grid', () => {
  it('has the points in the box and no others, where it lies', () => {
    const random = seededRandom(20);
    const points = Float32Array.from({ length: 3000 }, () => random());
    const grid = buildPointGrid(points, [10, 20, 30], 0.001);
    const cut = cutGrid(grid, {
      least: [10.25, Number.NEGATIVE_INFINITY, 30],
      greatest: [10.75, 20.5, Number.POSITIVE_INFINITY],
    });
    let inside = 0;
    for (let o = 0; o < points.length; o += 3) {
      const [x = 0, y = 0] = points.subarray(o, o + 2);
      if (x >= 0.25 && x <= 0.75 && y <= 0.5) inside++;
    }
    expect(inside).toBeGreaterThan(200);
    expect([cut.count, cut.origin, cut.cover]).toEqual([inside, [10, 20, 30], 0.001]);
    for (let i = 0; i < cut.count; i++) {
      expect(cut.positions[3 * i]).toBeGreaterThanOrEqual(0.25);
      expect(cut.positions[3 * i + 1]).toBeLessThanOrEqual(0.5);
    }
    expect(cutGrid(grid, { least: [0, 0, 0], greatest: [1, 1, 1] }).count).toBe(0);
  });
});
