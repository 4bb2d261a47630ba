import { describe, expect, it } from 'vitest';
import { seededRandom } from '../random.ts';
import type { Vec3 } from '../vector.ts';
import { distance } from '../vector.ts';
import { smallestInnerGap } from './gapInside.ts';
import { inSolid } from './inside.ts';
import { NearestFinder, squaredToTriangle } from './nearest.ts';
import { RayCaster } from './rayHit.ts';
import { turnedMesh } from './rotation.ts';
import { ballMesh, bendMesh, boxMesh, flipped, moved, pipeMesh } from './shapes.fixture.ts';
import { sampleSurface } from './surfaceSamples.ts';
import { nearerTrees, noPairWithin } from './triangleDistance.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import { joinMeshes, meshFrom } from './triangleMesh.ts';
import { triangleTree } from './triangleTree.ts';
import { thinnestWall } from './wallThickness.ts';

/** A block of profile (x, z outline, anticlockwise seen from -y... drawn in x and z) pushed along y. Triangulated as given. */
function prism(outline: readonly (readonly [number, number])[], faces: readonly number[], depth: number): TriangleMesh {
  const n = outline.length;
  const positions = [0, depth].flatMap((y) => outline.flatMap(([x, z]) => [x, y, z]));
  const indices: number[] = [];
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    indices.push(i, n + j, j, i, n + i, n + j);
  }
  for (let f = 0; f < faces.length; f += 3) {
    const [a = 0, b = 0, c = 0] = faces.slice(f, f + 3);
    indices.push(a, b, c, n + a, n + c, n + b);
  }
  const mesh = meshFrom(positions, indices);
  return mesh;
}

describe('nearest place and rays', () => {
  it('as trying all triangles, slivers and needles included (seed 51)', () => {
    const random = seededRandom(51);
    const positions = Array.from({ length: 900 }, (_, i) => random() * (i % 7 === 0 ? 1e-6 : 1));
    const mesh = meshFrom(
      positions,
      Array.from({ length: 600 }, () => Math.floor(random() * 300)),
    );
    const tree = triangleTree(mesh);
    const finder = new NearestFinder(tree);
    const place = new Float64Array(3);
    for (let n = 0; n < 300; n++) {
      const p: Vec3 = [random(), random(), random()];
      let best = Number.POSITIVE_INFINITY;
      for (let i = 0; i < tree.count; i++) best = Math.min(best, squaredToTriangle(tree.corners, 9 * i, ...p, place));
      const found = finder.find(p, Number.POSITIVE_INFINITY);
      expect(found).toBe(best);
      expect(distance(p, [finder.place[0] ?? 0, finder.place[1] ?? 0, finder.place[2] ?? 0])).toBeCloseTo(
        Math.sqrt(best),
        9,
      );
      expect(finder.find(p, best / 2)).toBe(best / 2);
      expect(finder.leaf).toBe(-1);
    }
  });

  it('no sampled place of a triangle is nearer than the nearest (seed 52)', () => {
    const random = seededRandom(52);
    const place = new Float64Array(3);
    for (let n = 0; n < 2000; n++) {
      const squash = n % 5 === 0 ? 1e-7 : 1;
      const t = Float64Array.from({ length: 9 }, (_, i) => random() * (i % 3 === 1 ? squash : 1));
      const p: Vec3 = [3 * random() - 1, 3 * random() - 1, 3 * random() - 1];
      const found = squaredToTriangle(t, 0, ...p, place);
      for (let m = 0; m < 60; m++) {
        const [u, v] = m < 3 ? [m === 0 ? 1 : 0, m === 1 ? 1 : 0] : [random(), random()];
        const [a, b] = u + v > 1 ? [1 - u, 1 - v] : [u, v];
        const at = [0, 1, 2].map((k) => (t[k] ?? 0) * (1 - a - b) + (t[3 + k] ?? 0) * a + (t[6 + k] ?? 0) * b);
        const squared = at.reduce((sum, x, k) => sum + (x - (p[k] ?? 0)) ** 2, 0);
        expect(squared).toBeGreaterThan(found * (1 - 1e-9) - 1e-13);
      }
      expect(place.reduce((sum, x, k) => sum + (x - (p[k] ?? 0)) ** 2, 0)).toBeCloseTo(found, 9);
    }
  });

  it('inside and outside of a bend (seed 53)', () => {
    const random = seededRandom(53);
    const bend = bendMesh({ bend: 0.06, outer: 0.021, inner: 0.0195 }, 1.5, { along: 60, facets: 90 });
    const tree = triangleTree(bend);
    const caster = new RayCaster(tree);
    for (let n = 0; n < 400; n++) {
      const [u, v, r] = [1.5 * random(), 2 * Math.PI * random(), [0.01, 0.02025, 0.03][n % 3] ?? 0];
      const x = 0.06 + r * Math.cos(v);
      expect(inSolid(tree, caster, [x * Math.cos(u), x * Math.sin(u), r * Math.sin(v)])).toBe(n % 3 === 1);
    }
  });

  it('samples cover the whole area and stand as near as asked', () => {
    const tree = triangleTree(pipeMesh({ outer: 0.02, inner: 0.018 }, 0.2, 40));
    const samples = sampleSurface(tree, 0.004);
    const area = samples.areas.reduce((sum, a) => sum + a, 0);
    const whole = sampleSurface(tree, 10);
    expect(whole.count).toBe(tree.count);
    expect(area).toBeCloseTo(
      whole.areas.reduce((sum, a) => sum + a, 0),
      12,
    );
    expect(Math.max(...samples.areas.subarray(0, samples.count))).toBeLessThanOrEqual(0.004 ** 2);
    // Needles are cut across, not halved again and again: the count goes with their length.
    expect(samples.count).toBeLessThan(60 * tree.count);
  });
});

describe('thinnest wall', () => {
  it.each([32, 60, 120])('a bend of 1.4 mm in %s facets: the thickness of a facet wall', (facets) => {
    const bend = bendMesh({ bend: 0.06, outer: 0.0222, inner: 0.0208 }, 1.2, { along: 40, facets });
    const wall = thinnestWall(turnedMesh(bend, [0.1, 0.2, 0.3, 0.9]));
    const expected = 0.0014 * Math.cos(Math.PI / facets);
    expect((wall?.p1 ?? 0) / expected).toBeCloseTo(1, 2.6);
    expect((wall?.smallest ?? 0) / expected).toBeGreaterThan(0.99);
    expect(wall?.unmeasured).toBeLessThan(0.05);
  });

  it('a pipe whose bore is off centre: thin side and where it is', () => {
    const outer = pipeMesh({ outer: 0.02, inner: 0.01 }, 0.1, 240);
    const positions = outer.positions.map((x, i) => {
      const isInner = Math.floor(i / 3) % 4 >= 2;
      return isInner ? (i % 3 === 0 ? x * 1.8 + 0.001 : i % 3 === 1 ? x * 1.8 : x) : x;
    });
    const wall = thinnestWall({ positions, indices: outer.indices });
    expect(wall?.smallest).toBeCloseTo(0.001, 5);
    expect(wall?.at[0]).toBeGreaterThan(0.018);
    expect(Math.abs(wall?.at[1] ?? 1)).toBeLessThan(0.003);
  });

  it('a block with square edges is no wall within the limit; a plate is, measured away from its edges too', () => {
    expect(thinnestWall(boxMesh([0.1, 0.05, 0.03]))).toBeUndefined();
    const plate = thinnestWall(boxMesh([0.1, 0.05, 0.002]), { spacing: 0.001 });
    expect(plate?.smallest).toBeCloseTo(0.002, 6);
    expect(plate?.p1).toBeCloseTo(0.002, 6);
  });

  it('a wedge of 20 degrees is thin towards its edge', () => {
    const x = 0.02 * Math.tan((20 * Math.PI) / 180);
    const wedge = prism(
      [
        [0, 0],
        [x, 0.02],
        [0, 0.02],
      ],
      [0, 1, 2],
      0.03,
    );
    expect(thinnestWall(wedge, { spacing: 0.001 })?.smallest).toBeLessThan(0.0006);
  });

  it('an empty mesh has none', () => {
    expect(thinnestWall(meshFrom([], []))).toBeUndefined();
  });
});

describe('smallest inner gap', () => {
  it('two parts corner to corner, exact', () => {
    const gap = smallestInnerGap(
      joinMeshes([boxMesh([0.02, 0.02, 0.02]), boxMesh([0.02, 0.02, 0.02], [0.021, 0.0205, 0.0203])]),
    );
    expect(gap?.gap).toBeCloseTo(Math.hypot(0.001, 0.0005, 0.0003), 12);
    expect(gap && distance(gap.at, gap.to)).toBeCloseTo(gap?.gap ?? 0, 12);
  });

  it('crossed edges, exact against trying all pairs of triangles', () => {
    const one = triangleTree(turnedMesh(boxMesh([0.02, 0.02, 0.02]), [0.3, 0.1, 0.2, 0.9]));
    const two = triangleTree(moved(turnedMesh(ballMesh(0.01, 2), [0.1, 0.5, 0.2, 0.9]), [0.03, 0.02, 0.02]));
    const pair = noPairWithin(1);
    nearerTrees(one, two, pair);
    const random = seededRandom(54);
    const finder = new NearestFinder(two);
    let sampled = Number.POSITIVE_INFINITY;
    const samples = sampleSurface(one, 0.0003 + 1e-6 * random());
    for (let i = 0; i < samples.count; i++) {
      const [x = 0, y = 0, z = 0] = samples.places.subarray(3 * i, 3 * i + 3);
      sampled = Math.min(sampled, finder.find([x, y, z], 1));
    }
    expect(Math.sqrt(pair.squared)).toBeLessThanOrEqual(Math.sqrt(sampled));
    expect(Math.sqrt(pair.squared)).toBeGreaterThan(Math.sqrt(sampled) - 0.0003);
  });

  it('the wall of a cavity is metal, not a gap', () => {
    const block = boxMesh([0.02, 0.02, 0.02]);
    const cavity = flipped(boxMesh([0.018, 0.018, 0.018], [0.001, 0.001, 0.001]), () => true);
    expect(smallestInnerGap(joinMeshes([block, cavity]))).toBeUndefined();
  });

  it('a slot in one part, at its width; a notch with the same mouth is none', () => {
    const w = 0.0005;
    const slot = prism(
      [
        [0, 0],
        [0.02, 0],
        [0.02, 0.02],
        [0.01 + w, 0.02],
        [0.01 + w, 0.01],
        [0.01, 0.01],
        [0.01, 0.02],
        [0, 0.02],
      ],
      [0, 1, 5, 1, 4, 5, 1, 2, 4, 2, 3, 4, 0, 5, 7, 5, 6, 7],
      0.03,
    );
    const gap = smallestInnerGap(slot);
    expect(gap?.gap).toBeCloseTo(w, 9);
    expect(Math.min(gap?.at[2] ?? 0, gap?.to[2] ?? 0)).toBeGreaterThan(0.01);
    const notch = prism(
      [
        [0, 0],
        [0.02, 0],
        [0.02, 0.02],
        [0.014, 0.02],
        [0.01, 0.01],
        [0.006, 0.02],
        [0, 0.02],
      ],
      [0, 1, 4, 1, 2, 4, 2, 3, 4, 0, 4, 6, 4, 5, 6],
      0.03,
    );
    expect(smallestInnerGap(notch, { spacing: 0.0005 })).toBeUndefined();
  });

  it('a bent rod whose ends come near each other, with the places', () => {
    const ring = bendMesh({ bend: 0.03, outer: 0.008, inner: 0.006 }, 2 * Math.PI - 0.05, { along: 120, facets: 60 });
    const gap = smallestInnerGap(ring);
    // The ends are planes through the axis: nearest at their inner rim.
    expect((gap?.gap ?? 0) / (2 * 0.022 * Math.sin(0.025))).toBeCloseTo(1, 2);
  });

  it('nothing within the limit, nothing at all', () => {
    expect(smallestInnerGap(pipeMesh({ outer: 0.022, inner: 0.02 }, 0.1, 60))).toBeUndefined();
    expect(smallestInnerGap(meshFrom([], []))).toBeUndefined();
  });
});
