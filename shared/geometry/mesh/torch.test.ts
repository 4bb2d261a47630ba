import { describe, expect, it } from 'vitest';
import { seededRandom } from '../random.ts';
import type { Vec3 } from '../vector.ts';
import { along, subtract } from '../vector.ts';
import { CapsuleProbe, squaredSegmentToTriangle } from './capsule.ts';
import { squaredToTriangle } from './nearest.ts';
import { bendMesh, boxMesh, pipeMesh } from './shapes.fixture.ts';
import type { Torch } from './torchAccess.ts';
import { torchAccess } from './torchAccess.ts';
import { joinMeshes, meshFrom } from './triangleMesh.ts';
import { triangleTree } from './triangleTree.ts';

const TORCH: Torch = { standOff: 0.002, cupRadius: 0.008, cupLength: 0.04, bodyRadius: 0.014, bodyLength: 0.126 };
const LEAN = { angle: (40 * Math.PI) / 180 };

describe('rod against triangle', () => {
  it('no place of the segment is nearer than the distance, and some place is that near (seed 81)', () => {
    const random = seededRandom(81);
    const place = new Float64Array(3);
    for (let n = 0; n < 2000; n++) {
      const flat = n % 6 === 0 ? 1e-6 : 1;
      const t = Float64Array.from({ length: 9 }, (_, i) => random() * (i % 3 === 2 ? flat : 1));
      const [from, to]: Vec3[] = [0, 1].map((): Vec3 => [2 * random() - 0.5, 2 * random() - 0.5, 2 * random() - 0.5]);
      if (!from || !to) throw new Error('no segment');
      const found = Math.sqrt(squaredSegmentToTriangle(t, 0, { from, to }));
      let sampled = Number.POSITIVE_INFINITY;
      for (let i = 0; i <= 200; i++) {
        const p = along(from, subtract(to, from), i / 200);
        sampled = Math.min(sampled, Math.sqrt(squaredToTriangle(t, 0, ...p, place)));
      }
      expect(sampled).toBeGreaterThan(found - 1e-7);
      expect(sampled - found).toBeLessThan(Math.hypot(...subtract(to, from)) / 200);
    }
  });

  it('the tree blocks what trying every triangle blocks (seed 82)', () => {
    const random = seededRandom(82);
    const tree = triangleTree(bendMesh({ bend: 0.06, outer: 0.021, inner: 0.0195 }, 1.5, { along: 24, facets: 30 }));
    const probe = new CapsuleProbe(tree);
    let met = 0;
    for (let n = 0; n < 400; n++) {
      const from: Vec3 = [0.2 * random() - 0.05, 0.2 * random() - 0.05, 0.2 * random() - 0.1];
      const to: Vec3 =
        n % 5 === 0 ? [from[0], from[1], from[2] + 0.05] : [0.2 * random(), 0.2 * random(), 0.1 * random()];
      const rod = { from, to, radius: 0.001 + 0.02 * random() };
      let expected = false;
      for (let i = 0; i < tree.count; i++)
        expected ||= squaredSegmentToTriangle(tree.corners, 9 * i, rod) < rod.radius ** 2;
      expect(probe.meets(rod)).toBe(expected);
      if (expected) met++;
    }
    expect(met).toBeGreaterThan(50);
    expect(met).toBeLessThan(350);
  });
});

describe('torch access', () => {
  it('free over a plate, the wished way first', () => {
    const [access] = torchAccess(
      triangleTree(boxMesh([0.4, 0.4, 0.01], [-0.2, -0.2, -0.01])),
      [{ at: [0, 0, 0], away: [0, 0, 2] }],
      TORCH,
      LEAN,
    );
    // The round end of the cup stands 10 mm off with a radius of 8: it touches the plate beyond a cosine of 0.8.
    expect(access?.free).toBeCloseTo((1 - 0.8) / (1 - Math.cos(LEAN.angle)), 2);
    expect(access?.lean).toBeLessThan(0.08);
  });

  it('a wall beside the seam takes one side; a slot narrower than the cup takes all', () => {
    const plate = boxMesh([0.4, 0.4, 0.01], [-0.2, -0.2, -0.01]);
    const wall = boxMesh([0.01, 0.4, 0.1], [0.012, -0.2, 0]);
    const [beside] = torchAccess(
      triangleTree(joinMeshes([plate, wall])),
      [{ at: [0, 0, 0], away: [0, 0, 1] }],
      TORCH,
      LEAN,
    );
    expect(beside?.free).toBeGreaterThan(0.2);
    expect(beside?.free).toBeLessThan(0.8);
    expect(beside?.best?.[0]).toBeLessThan(0);
    const slot = joinMeshes([
      plate,
      boxMesh([0.05, 0.4, 0.1], [0.007, -0.2, 0]),
      boxMesh([0.05, 0.4, 0.1], [-0.057, -0.2, 0]),
    ]);
    const [inSlot] = torchAccess(triangleTree(slot), [{ at: [0, 0, 0], away: [0, 0, 1] }], TORCH, LEAN);
    expect(inSlot).toEqual({ free: 0, best: undefined, lean: undefined });
  });

  it('the root inside a bore is out of reach, its rim is not; nothing in the way of nothing', () => {
    const pipe = pipeMesh({ outer: 0.022, inner: 0.02 }, 0.1, 60);
    const places = [
      { at: [0.02, 0, 0.05] as const, away: [-1, 0, 0] as const },
      { at: [0.022, 0, 0.1] as const, away: [1, 0, 1] as const },
    ];
    expect(torchAccess(triangleTree(pipe), places, TORCH, LEAN).map(({ free }) => free > 0)).toEqual([false, true]);
    expect(
      torchAccess(triangleTree(meshFrom([], [])), places, TORCH, { ...LEAN, tries: 5 }).map(({ free }) => free),
    ).toEqual([1, 1]);
  });
});
