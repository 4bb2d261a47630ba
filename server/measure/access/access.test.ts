import { describe, expect, test } from 'vitest';
import { buildCentreline } from '../../../shared/geometry/centreline.ts';
import { buildPointGrid, type PointGrid } from '../../../shared/geometry/cloud.ts';
import type { TubeReach } from '../../../shared/geometry/gap.ts';
import { smallestGap } from '../../../shared/geometry/gap.ts';
import { inSolid } from '../../../shared/geometry/mesh/inside.ts';
import { NearestFinder } from '../../../shared/geometry/mesh/nearest.ts';
import { RayCaster } from '../../../shared/geometry/mesh/rayHit.ts';
import { ballMesh } from '../../../shared/geometry/mesh/shapes.fixture.ts';
import { meshFrom, type TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { triangleTree } from '../../../shared/geometry/mesh/triangleTree.ts';
import { weldVertices } from '../../../shared/geometry/mesh/weld.ts';
import { seededRandom } from '../../../shared/geometry/random.ts';
import { sweepTube } from '../../../shared/geometry/sweep.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import { boxMesh } from '../../../tests/support/boxMesh.ts';
import { headerBody, keptBody, tubeMesh } from './header-body.ts';
import { partGap } from './part-gap.ts';
import { straightOff } from './straight-off.ts';
import { toolReach } from './tool-reach.ts';
import { torchReach } from './torch-reach.ts';

function tube(...nodes: readonly (readonly [number, number, number, number])[]): TubeReach {
  const centreline = buildCentreline(nodes.map(([x, y, z, radius]) => ({ x, y, z, radius })));
  if (!centreline.ok) throw new Error(centreline.code);
  return { centreline, outerRadius: 0.02, fromS: 0 };
}

const bent = tube([0, 0, 0, 0], [0, 0.2, 0, 0.06], [0, 0.2, -0.3, 0]);
const upright = (x: number): TubeReach => tube([x, 0, 0, 0], [x, 0.4, 0, 0]);
const grid = (points: readonly Vec3[], origin: Vec3 = [0, 0, 0]) =>
  buildPointGrid(Float32Array.from(points.flat()), origin);

describe('a part against a scan', () => {
  const part = boxMesh([0, 0, 0], [0.1, 0.2, 0.3]);

  test('the smallest distance and its two ends, wherever the zero of the scan lies', () => {
    const found = partGap(
      part,
      grid(
        [
          [0.05, 0.1, -0.3],
          [0, 0, 0.5],
        ],
        [0, 0, 0.25],
      ),
      { fromY: 0.01 },
    );
    expect(found.ok && found.result.gap).toBeCloseTo(0.05, 7);
    expect(found).toMatchObject({ ok: true, result: { points: 2, cover: 0 } });
    if (found.ok) for (const [k, x] of [0.05, 0.1, 0].entries()) expect(found.result.onPart[k]).toBeCloseTo(x, 6);
  });

  test('points inside a closed part count below zero, the deepest of them', () => {
    const found = partGap(
      part,
      grid([
        [0.05, 0.1, 0.15],
        [0.01, 0.1, 0.1],
        [0.5, 0.5, 0.5],
      ]),
      { fromY: 0.01 },
    );
    expect(found.ok && found.result.gap).toBeCloseTo(-0.05, 7);
  });

  test('the deepest of many points is that of all, asked one by one (seed 61)', () => {
    const solid = ballMesh(0.06, 4);
    const random = seededRandom(61);
    for (let turn = 0; turn < 6; turn++) {
      // Now spread through the ball, now a cloud within it, now hardly touching it.
      const [size, off] = [0.02 + 0.02 * turn, 0.05 * random()];
      const cloud = grid(
        Array.from(
          { length: 2000 },
          (): Vec3 => [off + size * (random() - 0.5), size * (random() - 0.5), size * (random() - 0.5)],
        ),
      );
      const found = partGap(solid, cloud, { fromY: -1 });
      const tree = triangleTree(solid);
      const [caster, finder] = [new RayCaster(tree), new NearestFinder(tree)];
      let deepest = 0;
      for (let i = 0; i < cloud.count; i++) {
        const point: Vec3 = [
          cloud.positions[3 * i] ?? 0,
          cloud.positions[3 * i + 1] ?? 0,
          cloud.positions[3 * i + 2] ?? 0,
        ];
        if (inSolid(tree, caster, point)) deepest = Math.max(deepest, Math.sqrt(finder.find(point, 1)));
      }
      expect(deepest).toBeGreaterThan(0);
      expect(found.ok && found.result.gap).toBeCloseTo(-deepest, 9);
    }
  });

  test('an open part has no inside: with points in its box nothing is said, with none the gap is', () => {
    const open = { ...part, indices: part.indices.subarray(0, 33) };
    const around = partGap(open, grid([[0.05, 0.1, 0.15]]), { fromY: 0.01 });
    expect(around).toMatchObject({ ok: false, problem: { code: 'not-closed' } });
    expect(around.ok || around.problem.message).toMatch(/1 scan points lie in its box/);
    const beside = partGap(open, grid([[0.05, 0.1, -0.05]]), { fromY: 0.01 });
    expect(beside.ok && beside.result.gap).toBeCloseTo(0.05, 7);
  });

  test('what is bolted to the head does not count', () => {
    const found = partGap(part, grid([[0.05, -0.001, 0.15]]), { fromY: 0.01 });
    // The faces that reach away from the head still stand on it.
    expect(found.ok && found.result.gap).toBeGreaterThan(0.04);
  });

  test.each([
    ['no points', grid([]), part],
    ['a part that lies in the head', grid([[1, 1, 1]]), boxMesh([0, -0.2, 0], [0.1, 0.001, 0.1])],
  ])('%s: says what was expected', (_, scan, mesh) => {
    expect(partGap(mesh, scan, { fromY: 0.01 })).toMatchObject({ ok: false, problem: { code: 'empty' } });
  });

  test('a swept tube against 3,000 points agrees with the exact tube to the facets (seed 8)', () => {
    const random = seededRandom(8);
    const points = Array.from({ length: 3000 }, (): Vec3 => [random() - 0.5, 0.1 + 0.4 * random(), random() - 0.8]);
    const outside = points.filter((p) => (smallestGap(bent, grid([p]))?.gap ?? 0) > 0.001);
    const cloud = grid(outside);
    const exact = smallestGap(bent, cloud);
    const radius = bent.outerRadius / Math.cos(Math.PI / 96);
    const capped = sweepTube(bent.centreline, { radius, maxChordError: 2e-5, facets: 96, caps: true });
    const { mesh } = weldVertices(meshFrom(capped.positions, capped.indices));
    const found = partGap(mesh, cloud, { fromY: 0 });
    if (!found.ok || !exact) throw new Error('nothing was measured');
    expect(Math.abs(found.result.gap - exact.gap)).toBeLessThan(3e-5);
  });
});

describe('a tool on a fastener', () => {
  const tool = { from: [0, 0.01, 0] as Vec3, way: [0, 1, 0] as Vec3, radius: 0.01, reach: 0.15 };
  const stud = { radius: 0.005, depth: 0.02 };
  const around = (tubes: readonly TubeReach[], parts: readonly TriangleMesh[], ...grids: readonly PointGrid[]) => ({
    body: headerBody(tubes, parts),
    grids,
  });

  test('is free for its whole reach with nothing there', () => {
    expect(toolReach(around([], []), { ...tool, stud })).toEqual({ free: 0.15, by: null, at: null });
  });

  test('is stopped by a runner that crosses over it', () => {
    const crossing = tube([-0.3, 0.1, 0, 0], [0.3, 0.1, 0, 0]);
    const found = toolReach(around([crossing], []), { ...tool, stud });
    // The underside of the tube is 20 mm below its axis at 100 mm, the mouth is at 10 mm; 96 facets stand out by 0.01 mm at most.
    expect(found).toMatchObject({ by: 'tube' });
    expect(found.free).toBeGreaterThan(0.0699);
    expect(found.free).toBeLessThanOrEqual(0.07);
  });

  test('is stopped by the nearest of part and scan; the stud itself is not in the way', () => {
    const parts = [boxMesh([-0.1, 0.06, -0.1], [0.1, 0.2, 0.1])];
    const ofStud: Vec3 = [0.002, 0.02, 0];
    expect(toolReach(around([], parts, grid([ofStud])), { ...tool, stud })).toMatchObject({
      by: 'part',
      free: expect.closeTo(0.05, 12),
    });
    const loom: Vec3 = [0.002, 0.045, 0];
    const stopped = toolReach(around([], parts, grid([ofStud, loom])), { ...tool, stud });
    expect(stopped).toMatchObject({ by: 'scan', free: expect.closeTo(0.035, 7) });
  });
});

test('the header comes off as far as the first thing in front of it, of all scans', () => {
  const around = {
    body: headerBody([bent], []),
    grids: [
      grid([[0, 0.5, -0.1]]),
      grid([
        [0, 0.4, -0.2],
        [0.5, 0.25, 0],
      ]),
    ],
  };
  const found = straightOff(around, { way: [0, 1, 0], reach: 0.5 });
  // The leg along -Z has its front at y = 0.22.
  expect(found.free).toBeGreaterThan(0.1799);
  expect(found.free).toBeLessThanOrEqual(0.18);
  expect(found.point?.[2]).toBeCloseTo(-0.2, 6);
  expect(straightOff(around, { way: [0, 1, 0], reach: 0.1 })).toEqual({ free: 0.1, point: null, onPart: null });
});

describe('a torch round a seam', () => {
  const torch = { standOff: 0.003, cupRadius: 0.008, cupLength: 0.04, bodyRadius: 0.014, bodyLength: 0.126 };
  const question = { torch, lean: (40 * Math.PI) / 180, places: 28 };

  test('gets all round a tube that stands alone', () => {
    expect(torchReach([upright(0)], headerBody([upright(0)], []), { ...question, seam: { tube: 0, s: 0.2 } })).toEqual({
      ok: true,
      result: { share: 1, blind: 0, at: null },
    });
  });

  test('does not get between two tubes 8 mm apart, and says where and how long', () => {
    const found = torchReach([upright(0), upright(0.048)], headerBody([upright(0), upright(0.048)], []), {
      ...question,
      seam: { tube: 0, s: 0.2 },
    });
    if (!found.ok || !found.result.at) throw new Error('nothing is blind');
    const { share, blind, at } = found.result;
    expect(share).toBeLessThan(1);
    expect(share).toBeGreaterThan(0.5);
    // One run, on the side of the neighbour.
    expect(blind).toBeCloseTo((1 - share) * 2 * Math.PI * 0.02, 9);
    expect(at[0]).toBeGreaterThan(0.018);
  });

  test('a tube inside a closed box is out of reach all round', () => {
    const shut = boxMesh([-0.03, 0.1, -0.03], [0.03, 0.3, 0.03]);
    const found = torchReach([upright(0)], headerBody([upright(0)], [shut]), {
      ...question,
      seam: { tube: 0, s: 0.2 },
    });
    expect(found).toMatchObject({ ok: true, result: { share: 0, blind: expect.closeTo(2 * Math.PI * 0.02, 9) } });
  });

  test.each([
    ['beyond the end', { tube: 0, s: 0.5 }],
    ['on a tube that is not there', { tube: 3, s: 0.1 }],
  ])('a seam %s is a problem, not a pass', (_, seam) => {
    expect(torchReach([upright(0)], headerBody([upright(0)], []), { ...question, seam })).toMatchObject({
      ok: false,
      problem: { code: 'seam-outside' },
    });
  });
});

test('a tube mesh lies nowhere inside its tube', () => {
  const { positions } = tubeMesh(upright(0));
  const middles = [];
  for (let i = 0; i + 5 < 3 * 96; i += 3) {
    const [x0 = 0, , z0 = 0, x1 = 0, , z1 = 0] = positions.subarray(i, i + 6);
    middles.push(Math.hypot((x0 + x1) / 2, (z0 + z1) / 2));
  }
  expect(Math.min(...middles)).toBeGreaterThan(0.02 - 1e-8);
});

test('a header is made once for all who ask about it, and the oldest is forgotten', () => {
  let made = 0;
  const ask = (name: string) =>
    keptBody(name, () => {
      made += 1;
      return headerBody([], []);
    });
  for (const name of ['a', 'b', 'a', 'c', 'd', 'a', 'e', 'a']) ask(name);
  expect(made).toBe(5);
  ask('b');
  expect(made).toBe(6);
});
