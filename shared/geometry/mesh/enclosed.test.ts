import { describe, expect, it } from 'vitest';
import { seededRandom } from '../random.ts';
import { squaredDistances } from './distanceField.ts';
import { enclosedVolumes } from './enclosed.ts';
import { meshReport } from './meshReport.ts';
import { ballMesh, boxMesh, flipped, moved, pipeMesh } from './shapes.fixture.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import { joinMeshes, meshFrom } from './triangleMesh.ts';
import { voxelGrid } from './voxelGrid.ts';

/** A turned vessel about z: its half outline as radius and height, round and round; closed because the outline is. */
function turnedVessel(outline: readonly (readonly [number, number])[], facets: number): TriangleMesh {
  const n = outline.length;
  const positions = Array.from({ length: facets }, (_, i) => {
    const u = (2 * Math.PI * i) / facets;
    return outline.flatMap(([r, z]) => [r * Math.cos(u), r * Math.sin(u), z]);
  }).flat();
  const indices: number[] = [];
  for (let i = 0; i < facets; i++) {
    for (let j = 0; j < n; j++) {
      const [i1, j1] = [(i + 1) % facets, (j + 1) % n];
      const [a, b, c, d] = [i * n + j, i1 * n + j, i1 * n + j1, i * n + j1];
      indices.push(a, b, c, a, c, d);
    }
  }
  return meshFrom(positions, indices);
}

/** A bottle: body of inner radius 15 and height 40 mm, walls of 2, with a neck of an inner radius below, and one above or a closed top. */
function bottle(neck: number, second?: number): TriangleMesh {
  const outline: [number, number][] = [
    [neck + 0.002, -0.01],
    [neck + 0.002, 0],
    [0.017, 0],
    [0.017, 0.044],
  ];
  const top: [number, number][] = second
    ? [
        [second + 0.002, 0.044],
        [second + 0.002, 0.054],
        [second, 0.054],
        [second, 0.042],
      ]
    : [
        [1e-6, 0.044],
        [1e-6, 0.042],
      ];
  return turnedVessel([...outline, ...top, [0.015, 0.042], [0.015, 0.002], [neck, 0.002], [neck, -0.01]], 60);
}

const INSIDE = Math.PI * 0.015 ** 2 * 0.04;

describe('distance field', () => {
  it('as measuring to every blocked cube (seed 71)', () => {
    const random = seededRandom(71);
    const [columns, rows, layers] = [9, 7, 6];
    const blocked = Uint8Array.from({ length: columns * rows * layers }, () => (random() < 0.02 ? 1 : 0));
    const grid = { columns, rows, layers, origin: [0, 0, 0] as const, edge: 1, metal: blocked, blocked };
    const place = (c: number): number[] => [
      c % columns,
      Math.floor(c / columns) % rows,
      Math.floor(c / columns / rows),
    ];
    const walls = Array.from(blocked.keys())
      .filter((c) => blocked[c])
      .map(place);
    expect(walls.length).toBeGreaterThan(3);
    squaredDistances(grid).forEach((squared, c) => {
      const p = place(c);
      const least = Math.min(...walls.map((w) => w.reduce((sum, x, k) => sum + (x - (p[k] ?? 0)) ** 2, 0)));
      expect(squared).toBe(least);
    });
  });
});

describe('voxel grid', () => {
  it('has the volume of the mesh, and keeps walls thinner than a cube shut', () => {
    const ball = ballMesh(0.02, 4);
    const grid = voxelGrid(ball, 0.0005);
    const count = grid?.metal.reduce((sum, is) => sum + is, 0) ?? 0;
    expect((count * 0.0005 ** 3) / meshReport(ball).volume).toBeCloseTo(1, 2);
    const can = joinMeshes([
      boxMesh([0.02, 0.02, 0.02]),
      flipped(boxMesh([0.0198, 0.0198, 0.0198], [0.0001, 0.0001, 0.0001]), () => true),
    ]);
    const [sealed] = enclosedVolumes(can, 0.0005);
    expect(sealed?.openings).toEqual([]);
    expect(sealed?.volume).toBeCloseTo(0.0198 ** 3, 12);
    // A corner of the cavity.
    expect(sealed?.at.every((x) => Math.abs(x - 0.01) > 0.0098 && Math.abs(x - 0.01) < 0.01)).toBe(true);
  });
});

describe('enclosed volumes', () => {
  it('the vessel of these tests is sound', () => {
    expect(meshReport(bottle(0.002))).toMatchObject({ openEdges: 0, flippedEdges: 0, selfIntersections: 0 });
    expect(meshReport(bottle(0.002)).volume).toBeGreaterThan(0);
  });

  it.each([0.0015, 0.0025, 0.004])(
    'a bottle with a neck of radius %s: its volume, one way out and how wide',
    (neck) => {
      const [found, ...others] = enclosedVolumes(bottle(neck), 0.0005);
      expect(others).toEqual([]);
      expect(found?.openings).toHaveLength(1);
      const [way] = found?.openings ?? [];
      expect(Math.abs((way?.diameter ?? 0) - 2 * neck)).toBeLessThan(0.00025);
      expect(Math.hypot(way?.at[0] ?? 1, way?.at[1] ?? 1)).toBeLessThan(0.001);
      expect(way?.at[2]).toBeLessThan(0.004);
      expect((found?.volume ?? 0) / INSIDE).toBeCloseTo(1, 1);
      // Somewhere inside.
      expect(Math.hypot(found?.at[0] ?? 1, found?.at[1] ?? 1)).toBeLessThan(0.0155);
      expect(found?.at[2]).toBeGreaterThan(0.002);
    },
  );

  it('two necks: two ways out, the wider first', () => {
    const [found] = enclosedVolumes(bottle(0.002, 0.003), 0.0005);
    expect(found?.openings.map(({ diameter }) => Math.round(diameter * 1000))).toEqual([6, 4]);
    expect((found?.openings[0]?.at[2] ?? 0) > 0.03 && (found?.openings[1]?.at[2] ?? 1) < 0.004).toBe(true);
  });

  it('a bottle with a mouth nearly as wide as itself is open, and so is a pipe', () => {
    expect(enclosedVolumes(bottle(0.012), 0.0005)).toEqual([]);
    expect(enclosedVolumes(pipeMesh({ outer: 0.022, inner: 0.02 }, 0.1, 60), 0.001)).toEqual([]);
    expect(enclosedVolumes(pipeMesh({ outer: 0.006, inner: 0.004 }, 0.05, 40), 0.0005)).toEqual([]);
  });

  it('a sealed cavity has the exact volume of its shell, once; one between overlapping parts is found too', () => {
    const hollow = joinMeshes([ballMesh(0.02, 3), flipped(ballMesh(0.015, 3), () => true)]);
    const [cavity, ...others] = enclosedVolumes(hollow, 0.001);
    expect(others).toEqual([]);
    expect(cavity?.volume).toBeCloseTo(-(meshReport(hollow).shells[1]?.volume ?? 0), 14);
    // A pipe shut by two lids that are parts of their own.
    const lid = (z: number): TriangleMesh => boxMesh([0.06, 0.06, 0.01], [-0.03, -0.03, z]);
    const shut = joinMeshes([pipeMesh({ outer: 0.022, inner: 0.02 }, 0.05, 60), lid(-0.005), lid(0.045)]);
    const [between, ...more] = enclosedVolumes(shut, 0.0007);
    expect(more).toEqual([]);
    expect(between?.openings).toEqual([]);
    expect((between?.volume ?? 0) / (Math.PI * 0.02 ** 2 * 0.04)).toBeCloseTo(1, 1);
  });

  it('two bottles side by side are two, and where they are does not matter', () => {
    const pair = joinMeshes([bottle(0.002), moved(bottle(0.003), [0.05, 0.003, 0.001])]);
    const far = moved(pair, [1.0007, -2.003, 0.5]);
    for (const mesh of [pair, far]) {
      const found = enclosedVolumes(mesh, 0.0006);
      expect(found.map(({ openings }) => openings.length)).toEqual([1, 1]);
      const widths = found.map(({ openings }) => openings[0]?.diameter ?? 0).sort((a, b) => a - b);
      expect(Math.abs((widths[0] ?? 0) - 0.004)).toBeLessThan(0.0003);
      expect(Math.abs((widths[1] ?? 0) - 0.006)).toBeLessThan(0.0003);
    }
  });

  it('nothing in a block, in an empty mesh, or with cubes of no size', () => {
    expect(enclosedVolumes(boxMesh([0.02, 0.02, 0.02]), 0.001)).toEqual([]);
    expect(enclosedVolumes(meshFrom([], []), 0.001)).toEqual([]);
    expect(enclosedVolumes(boxMesh([1, 1, 1]), 0)).toEqual([]);
  });
});
