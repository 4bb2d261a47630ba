import { describe, expect, it } from 'vitest';
import { seededRandom } from '../random.ts';
import type { Vec3 } from '../vector.ts';
import { cross, dot, subtract } from '../vector.ts';
import { sideOf, turnOf } from './exactSide.ts';
import { degenerateFaces } from './faces.ts';
import { crossingPairs } from './selfIntersection.ts';
import { ballMesh, boxMesh, moved } from './shapes.fixture.ts';
import { fanParted, sidesPart } from './sureParting.ts';
import { segmentMeets, trianglesMeet } from './triangleCrossing.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import { joinMeshes, meshFrom } from './triangleMesh.ts';
import { triangleTree } from './triangleTree.ts';

const axisOf = (points: readonly Vec3[]): Vec3[] => {
  const [a = [0, 0, 0], b = [0, 0, 0], c = [0, 0, 0]] = points;
  return points.length < 3 ? [] : [cross(subtract(b, a), subtract(c, a))];
};

/** Separating axes: two convex bodies have no point in common exactly when some axis parts them. Exact on small whole numbers. */
function partedByAxis(s: readonly Vec3[], t: readonly Vec3[]): boolean {
  const edges = (ps: readonly Vec3[]): Vec3[] => ps.map((p, i) => subtract(ps[(i + 1) % ps.length] ?? p, p));
  const normals = [...axisOf(s), ...axisOf(t)];
  const axes = [
    ...normals,
    ...edges(s).flatMap((e) => edges(t).map((f) => cross(e, f))),
    ...normals.flatMap((n) => [...edges(s), ...edges(t)].map((e) => cross(n, e))),
  ];
  return axes.some((axis) => {
    const [ps, pt] = [s.map((p) => dot(p, axis)), t.map((p) => dot(p, axis))];
    return Math.max(...ps) < Math.min(...pt) || Math.max(...pt) < Math.min(...ps);
  });
}

const hasArea = (t: readonly Vec3[]): boolean => axisOf(t).some((n) => dot(n, n) > 0);

describe('exact sides', () => {
  it('agrees with whole numbers, and sees the last bit', () => {
    const p = new Float64Array([0, 0, 0, 1, 0, 0, 0, 1, 0, 0.3, 0.3, 1, 0.3, 0.3, -1, 0.3, 0.3, 0, 0.3, 0.3, 5e-324]);
    expect([9, 12, 15].map((d) => sideOf(p, 0, 3, 6, d))).toEqual([1, -1, 0]);
    expect([0, 1, 2].map((drop) => turnOf(p, drop, 0, 3, 6))).toEqual([0, 0, 1]);
    const q = new Float64Array([12, 12, 12, 24, 24, 24, 0.5, 0.5, 0.5 + 2 ** -53, 0, 0, 1]);
    expect(sideOf(q, 0, 3, 9, 6)).toBe(0);
    const r = new Float64Array([12, 12, 12, 24, 24, 25, 0.1, 0.1, 0.2, 7, 7, 7 + 2 ** -50]);
    const s = sideOf(r, 0, 3, 6, 9);
    expect([0, 3, 6, 9].map((o) => (r[o] ?? 0) - (r[o + 1] ?? 0))).toEqual([0, 0, 0, 0]);
    expect(s).toBe(0);
  });
});

describe('triangle against triangle', () => {
  it('as separating axes say, 60,000 pairs on a small grid full of touching and coplanar cases (seed 21)', () => {
    const random = seededRandom(21);
    const whole = (): number => Math.floor(4 * random());
    let [meeting, parted] = [0, 0];
    for (let n = 0; n < 60_000; n++) {
      const flat = n % 3 === 0;
      const points = Array.from({ length: 6 }, (): Vec3 => [whole(), whole(), flat ? 0 : whole()]);
      const [s, t] = [points.slice(0, 3), points.slice(3)];
      if (!hasArea(s) || !hasArea(t)) continue;
      const expected = !partedByAxis(s, t);
      if (expected) meeting++;
      else parted++;
      if (trianglesMeet(Float64Array.from(points.flat()), [0, 3, 6], [9, 12, 15]) !== expected) {
        throw new Error(`expected ${expected} for ${JSON.stringify(points)}`);
      }
    }
    expect(meeting).toBeGreaterThan(10_000);
    expect(parted).toBeGreaterThan(10_000);
  });

  it('segment against triangle, the same way (seed 22)', () => {
    const random = seededRandom(22);
    const whole = (): number => Math.floor(4 * random());
    for (let n = 0; n < 30_000; n++) {
      const points = Array.from({ length: 5 }, (): Vec3 => [whole(), whole(), n % 3 ? whole() : 1]);
      const [s, t] = [points.slice(0, 2), points.slice(2)];
      if (!hasArea(t) || JSON.stringify(s[0]) === JSON.stringify(s[1])) continue;
      const p = Float64Array.from(points.flat());
      expect(segmentMeets(p, 0, 3, [6, 9, 12]), JSON.stringify(points)).toBe(!partedByAxis(s, t));
    }
  });
});

describe('what is said at once', () => {
  /** Places on a small grid, so that all sums are exact; every third case is flat. */
  const placesOn = (seed: number, count: number): readonly (readonly Vec3[])[] => {
    const random = seededRandom(seed);
    const whole = (): number => Math.floor(5 * random());
    return Array.from({ length: 40_000 }, (_, n) =>
      Array.from({ length: count }, (): Vec3 => [whole(), whole(), n % 3 ? whole() : 2]),
    );
  };

  it('triangles with a corner in common: never of a pair that has more in common, on flat ground of every clear one (seed 23)', () => {
    const decided = [0, 0];
    for (const points of placesOn(23, 5)) {
      const [v, a, b, c, d] = points;
      if (!v || !a || !b || !c || !d || !hasArea([v, a, b]) || !hasArea([v, c, d])) continue;
      const meeting = !partedByAxis([a, b], [v, c, d]) || !partedByAxis([c, d], [v, a, b]);
      const parted = fanParted(Float64Array.from(points.flat()), Int32Array.of(0, 3, 6, 9, 12));
      if (parted && meeting) throw new Error(`said to be parted: ${JSON.stringify(points)}`);
      const flat = points.every((p) => p[2] === 2);
      // Where no two sides lie along each other.
      const clear = [c, d].every((p) => [a, b].every((q) => hasArea([v, p, q])));
      if (flat && clear && !meeting) expect(parted, JSON.stringify(points)).toBe(true);
      decided[parted ? 0 : 1] = (decided[parted ? 0 : 1] ?? 0) + 1;
    }
    expect(Math.min(...decided)).toBeGreaterThan(5000);
  });

  it('triangles beside each other: never of a pair that meets (seed 24)', () => {
    const decided = [0, 0];
    for (const points of placesOn(24, 6)) {
      const [s, t] = [points.slice(0, 3), points.slice(3)];
      if (!hasArea(s) || !hasArea(t)) continue;
      const parted = sidesPart(Float64Array.from(points.flat()), [0, 3, 6], [9, 12, 15]);
      if (parted && !partedByAxis(s, t)) throw new Error(`said to be parted: ${JSON.stringify(points)}`);
      decided[parted ? 0 : 1] = (decided[parted ? 0 : 1] ?? 0) + 1;
    }
    expect(Math.min(...decided)).toBeGreaterThan(5000);
  });

  it('leaves to the exact tests what rounding decides, and lengths whose products vanish', () => {
    const fan = Int32Array.of(0, 3, 6, 9, 12);
    const beside = (x: number, size: number) =>
      fanParted(
        Float64Array.from([0, 0, 0, 0, 1, 0, 1, 0, 0, x, 1, 0, -1, 1, 0], (w) => w * size),
        fan,
      );
    expect(beside(-0.5, 1)).toBe(true);
    expect(beside(-0.5, 1e-200)).toBe(false);
    const nearlyInLine = [0.1, 0.1, 0, 0.3, 0.3, 0, 0.5, 0.1, 0, 0.3 - 2 ** -54, 0.3, 0, 0.1, 0.9, 0];
    expect(fanParted(Float64Array.from(nearlyInLine), fan)).toBe(false);
  });
});

describe('crossing pairs of a mesh', () => {
  const pairsOf = (mesh: TriangleMesh): string[] => {
    const { pairs } = crossingPairs(mesh);
    return Array.from({ length: pairs.length / 2 }, (_, i) => `${pairs[2 * i]} ${pairs[2 * i + 1]}`).sort();
  };

  it.each([31, 32, 33])('the tree finds what trying all pairs finds, slivers included (seed %s)', (seed) => {
    const random = seededRandom(seed);
    const vertices = Array.from({ length: 120 }, (_, i) => [
      random(),
      random(),
      i % 4 ? random() : 1e-9 * random(),
    ]).flat();
    const indices = Array.from({ length: 300 * 3 }, () => Math.floor(random() * 120));
    const mesh = meshFrom(vertices, indices);
    const flat = degenerateFaces(mesh);
    const expected: string[] = [];
    for (let s = 0; s < 300; s++) {
      for (let t = s + 1; t < 300; t++) {
        const both = [...mesh.indices.subarray(3 * s, 3 * s + 3), ...mesh.indices.subarray(3 * t, 3 * t + 3)];
        if (flat[s] || flat[t]) continue;
        if (crossingPairs({ positions: mesh.positions, indices: Uint32Array.from(both) }).pairs.length > 0) {
          expected.push(`${s} ${t}`);
        }
      }
    }
    expect(pairsOf(mesh)).toEqual(expected.sort());
  });

  it('two boxes that share a wall touch; the same boxes a hair apart do not', () => {
    const boxes = (gap: number) => joinMeshes([boxMesh([1, 1, 1]), boxMesh([1, 1, 1], [1 + gap, 0, 0])]);
    expect(pairsOf(boxes(0)).length).toBeGreaterThan(0);
    expect(pairsOf(boxes(2 ** -52))).toEqual([]);
  });

  it('a folded pair of triangles, and a flat pair beside each other', () => {
    expect(pairsOf(meshFrom([0, 0, 0, 1, 0, 0, 0, 1, 0, 0.2, 0.3, 0], [0, 1, 2, 0, 1, 3]))).toEqual(['0 1']);
    expect(pairsOf(meshFrom([0, 0, 0, 1, 0, 0, 0, 1, 0, 0.2, -0.3, 0], [0, 1, 2, 0, 1, 3]))).toEqual([]);
  });

  it('is the same at a thousandth and a thousand times the size', () => {
    const two = joinMeshes([ballMesh(1, 3), moved(ballMesh(1, 3), [0.25, 0.125, 0.5])]);
    const sizes = [2 ** -10, 1, 2 ** 10].map((k) => pairsOf({ ...two, positions: two.positions.map((x) => x * k) }));
    expect(sizes[0]).toEqual(sizes[1]);
    expect(sizes[2]).toEqual(sizes[1]);
    expect(sizes[1]?.length).toBeGreaterThan(50);
  });
});

describe('tree', () => {
  it('stays shallow and whole where sizes shrink without end', () => {
    const positions = Array.from({ length: 900 }, (_, i) => [
      2 ** -i,
      0,
      0,
      2 ** -i,
      2 ** -i,
      0,
      2 ** -i,
      0,
      2 ** -i,
    ]).flat();
    const mesh = meshFrom(
      positions,
      Array.from({ length: 2700 }, (_, i) => i),
    );
    const tree = triangleTree(mesh);
    const depth = new Int32Array(tree.nodes);
    let held = 0;
    for (let node = 0; node < tree.nodes; node++) {
      held += tree.held[node] ?? 0;
      if (tree.held[node]) continue;
      const child = tree.start[node] ?? 0;
      depth[child] = depth[child + 1] = (depth[node] ?? 0) + 1;
    }
    expect(held).toBe(900);
    expect(Array.from(tree.order).sort((a, b) => a - b)).toEqual(Array.from({ length: 900 }, (_, i) => i));
    expect(Math.max(...depth)).toBeLessThan(96);
  });
});
