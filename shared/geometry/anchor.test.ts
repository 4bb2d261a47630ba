import { describe, expect, it } from 'vitest';
import { placeOnTube, pointOfPlace, type TubePlace } from './anchor.ts';
import { buildCentreline, type Centreline, type CentrelineNode, pointAt, sample, tangentAt } from './centreline.ts';
import { footOnCentreline } from './distance.ts';
import { inventedRunner } from './invent.ts';
import { seededRandom } from './random.ts';
import { distance, dot, rotate, subtract, type Vec3 } from './vector.ts';

function lineOf(nodes: readonly CentrelineNode[]): Centreline {
  const line = buildCentreline(nodes);
  if (!line.ok) throw new Error(line.code);
  return line;
}

const RADIUS = 0.0215;
const random = seededRandom(20261125);
const runners = Array.from({ length: 25 }, (_, i) => inventedRunner(random, i % 6));
const places: readonly TubePlace[] = Array.from({ length: 12 }, (_, i) => ({ share: i / 11, angle: 6 * random() - 3 }));

/** A bent runner leaving the head along y, its first straight nudged by dx and dz at node 2, metres. */
const leaving = (dx: number, dz: number): Centreline =>
  lineOf([
    { x: 0, y: 0, z: 0, radius: 0 },
    { x: dx, y: 0.15, z: dz, radius: 0.06 },
    { x: 0.1, y: 0.2, z: 0.2, radius: 0.05 },
    { x: 0.3, y: 0.2, z: 0.25, radius: 0 },
  ]);

describe('a place on a tube, invented runners of seed 20261125', () => {
  it('its point lies on the tube: at its share of the length, square to the centreline, a radius away', () => {
    for (const nodes of runners) {
      const line = lineOf(nodes);
      for (const place of places) {
        const s = place.share * line.length;
        const out = subtract(pointOfPlace(line, place, RADIUS), pointAt(line, s));
        expect(Math.hypot(...out)).toBeCloseTo(RADIUS, 12);
        expect(dot(out, tangentAt(line, s))).toBeCloseTo(0, 12);
      }
    }
  });

  it('point to place to point comes back to the point, wherever its foot is the one meant', () => {
    let tried = 0;
    for (const nodes of runners) {
      const line = lineOf(nodes);
      for (const place of places) {
        const point = pointOfPlace(line, place, RADIUS);
        const back = placeOnTube(line, point);
        if (!back) throw new Error('no place');
        // Where the tube comes close to itself the nearest place may be another: not on this one's own share.
        const s = place.share * line.length;
        const foot = footOnCentreline(line, point);
        if (!foot || Math.abs(foot.s - s) > 1e-6) continue;
        expect(distance(pointOfPlace(line, back, RADIUS), point)).toBeLessThan(1e-9);
        expect(Math.cos(back.angle - place.angle)).toBeCloseTo(1, 9);
        tried += 1;
      }
    }
    expect(tried).toBeGreaterThan(200);
  });

  it('moved as a whole, the pin moves with the runner', () => {
    const by: Vec3 = [0.3, -0.2, 0.7];
    for (const nodes of runners) {
      const moved = lineOf(nodes.map((n) => ({ ...n, x: n.x + by[0], y: n.y + by[1], z: n.z + by[2] })));
      for (const place of places) {
        const way = subtract(pointOfPlace(moved, place, RADIUS), pointOfPlace(lineOf(nodes), place, RADIUS));
        expect(distance(way, by)).toBeLessThan(1e-9);
      }
    }
  });

  it('turned as a whole about y, a runner that leaves along y turns its pins at the same share', () => {
    const line = leaving(0, 0);
    const nodes = [
      [0, 0, 0],
      [0, 0.15, 0],
      [0.1, 0.2, 0.2],
      [0.3, 0.2, 0.25],
    ] as const;
    const radii = [0, 0.06, 0.05, 0];
    const turned = lineOf(
      nodes.map((n, i) => {
        const [x, y, z] = rotate(n, [0, 1, 0], 0.4);
        return { x, y, z, radius: radii[i] ?? 0 };
      }),
    );
    // The start direction is unchanged, so "up" stays up and the clock angle is counted from it in both.
    const a = pointOfPlace(line, { share: 0, angle: 0.3 }, RADIUS);
    const b = pointOfPlace(turned, { share: 0, angle: 0.3 }, RADIUS);
    expect(distance(a, b)).toBeLessThan(1e-12);
    const middle = pointOfPlace(line, { share: 0.5, angle: 0.3 }, RADIUS);
    const expected = rotate(middle, [0, 1, 0], 0.4);
    expect(distance(pointOfPlace(turned, { share: 0.5, angle: 0.3 + 0.4 }, RADIUS), expected)).toBeLessThan(1e-9);
  });

  it('angle 0 at a port that points away from the head is up', () => {
    expect(distance(pointOfPlace(leaving(0, 0), { share: 0, angle: 0 }, RADIUS), [0, 0, RADIUS])).toBeLessThan(1e-12);
  });

  it('when a node moves a little the pin moves a little, in every direction about straight out of the head', () => {
    const step = 1e-4;
    for (let k = 0; k < 64; k++) {
      const [c, s] = [Math.cos((2 * Math.PI * k) / 64), Math.sin((2 * Math.PI * k) / 64)];
      for (const place of places) {
        for (const far of [0, step, 0.005, 0.03]) {
          const a = pointOfPlace(leaving(far * c, far * s), place, RADIUS);
          const b = pointOfPlace(leaving((far + step) * c, (far + step) * s), place, RADIUS);
          // Tube radius over straight length, and the length itself, bound how much a pin can swing.
          expect(distance(a, b)).toBeLessThan(10 * step);
        }
      }
    }
  });

  it('a place a rounding away from a station of the frame is where the station is', () => {
    const line = leaving(0.01, 0.02);
    for (const { s } of sample(line, 1e-3)) {
      for (const off of [0, 1e-16, 1e-14, 1e-12, -1e-12]) {
        const share = Math.min(1, Math.max(0, (s + off) / line.length));
        const at = pointOfPlace(line, { share, angle: 1 }, RADIUS);
        const near = pointOfPlace(line, { share: Math.min(1, share + 1e-7), angle: 1 }, RADIUS);
        expect(distance(at, near)).toBeLessThan(1e-6);
      }
    }
  });

  it('a share outside 0..1 is held at the ends', () => {
    const line = leaving(0, 0);
    expect(pointOfPlace(line, { share: -5, angle: 0 }, RADIUS)).toEqual(
      pointOfPlace(line, { share: 0, angle: 0 }, RADIUS),
    );
    expect(pointOfPlace(line, { share: 5, angle: 0 }, RADIUS)).toEqual(
      pointOfPlace(line, { share: 1, angle: 0 }, RADIUS),
    );
  });

  it('a point on the centreline has angle 0, one that is not finite has no place, a start straight into the head still has one', () => {
    const line = leaving(0, 0);
    expect(placeOnTube(line, [0, 0.05, 0])?.angle).toBe(0);
    expect(placeOnTube(line, [Number.NaN, 0, 0])).toBeUndefined();
    const back = lineOf([
      { x: 0, y: 0, z: 0, radius: 0 },
      { x: 0, y: -0.2, z: 0, radius: 0 },
    ]);
    const point = pointOfPlace(back, { share: 0.5, angle: 1 }, RADIUS);
    expect(distance(point, [0, -0.1, 0])).toBeCloseTo(RADIUS, 12);
    expect(placeOnTube(back, point)?.angle).toBeCloseTo(1, 9);
  });
});
