import { expect, test } from 'vitest';
import { seededRandom } from '../random.ts';
import { add, scale, unit, type Vec3 } from '../vector.ts';
import { freeTravel } from './freeTravel.ts';
import { meshFrom } from './triangleMesh.ts';
import { triangleTree } from './triangleTree.ts';

/** A square plate of side 2 at z = 0, open. */
const plate = triangleTree(meshFrom([-1, -1, 0, 1, -1, 0, 1, 1, 0, -1, 1, 0], [0, 1, 2, 0, 2, 3]));
const points = (...all: readonly Vec3[]) => ({ positions: Float32Array.from(all.flat()), origin: [0, 0, 0] as Vec3 });

test('the nearest point ahead stops it; those beside, behind and beyond do not', () => {
  const ahead = points([0.5, 0.25, 3], [0, 0, 2.5], [1.5, 0, 1], [0, 0, -1]);
  expect(freeTravel(plate, ahead, { way: [0, 0, 1], reach: 10 })).toEqual({
    travel: 2.5,
    point: [0, 0, 2.5],
    onPart: [0, 0, 0],
  });
  expect(freeTravel(plate, ahead, { way: [0, 0, 1], reach: 2 })).toBeUndefined();
  expect(freeTravel(plate, ahead, { way: [0, 0, -1], reach: 10 })).toMatchObject({ travel: 1 });
});

test('300 random clouds and ways: as far as every point tried alone against each triangle (seed 5)', () => {
  const random = seededRandom(5);
  const near = (): number => 4 * random() - 2;
  let stopped = 0;
  for (let i = 0; i < 300; i++) {
    const corners = Array.from({ length: 12 }, () => [near(), near(), near()] as Vec3);
    const tree = triangleTree(meshFrom(corners.flat(), [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]));
    const cloud = Array.from({ length: 20 }, () => [near(), near(), near()].map(Math.fround) as unknown as Vec3);
    const [way, reach] = [unit([near(), near(), near()]), 1 + 2 * random()];
    const found = freeTravel(tree, points(...cloud), { way, reach });
    const alone = Math.min(
      ...cloud.flatMap((p) => [0, 3, 6, 9].map((t) => hit(p, scale(way, -1), corners.slice(t, t + 3)))),
    );
    if (alone > reach) expect(found).toBeUndefined();
    else {
      stopped += 1;
      expect(found?.travel).toBeCloseTo(alone, 9);
    }
  }
  expect(stopped).toBeGreaterThan(100);
});

/** Distance along a ray to a triangle by Cramer's rule; a large number when it misses. */
function hit(from: Vec3, d: Vec3, [p, q, r]: readonly Vec3[]): number {
  if (!p || !q || !r) return 1e9;
  const det = (a: Vec3, b: Vec3, c: Vec3): number =>
    a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
  const minus = (a: Vec3, b: Vec3): Vec3 => add(a, scale(b, -1));
  const [u, v, w] = [minus(q, p), minus(r, p), scale(d, -1)];
  const all = det(u, v, w);
  const s = minus(from, p);
  const [a, b, t] = [det(s, v, w) / all, det(u, s, w) / all, det(u, v, s) / all];
  return a >= 0 && b >= 0 && a + b <= 1 && t >= 0 ? t : 1e9;
}
