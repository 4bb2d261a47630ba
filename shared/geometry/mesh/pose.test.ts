import { describe, expect, it } from 'vitest';
import { seededRandom } from '../random.ts';
import type { Vec3 } from '../vector.ts';
import { norm, scale } from '../vector.ts';
import { poseMeasures, searchPoses } from './buildPose.ts';
import { leastAlong } from './extent.ts';
import { facesOf } from './faces.ts';
import { normalBins, plateSupport } from './normalBins.ts';
import { NO_TURN, rowsOf, spreadDirections, turned, turnUpright } from './rotation.ts';
import { ballMesh, bendMesh, boxMesh, moved, pipeMesh, torusMesh } from './shapes.fixture.ts';
import { joinMeshes, meshFrom } from './triangleMesh.ts';
import { triangleTree } from './triangleTree.ts';

const DEGREE = Math.PI / 180;
const LIMIT = { overhangAngle: 45 * DEGREE };

const direction = (random: () => number): Vec3 => {
  const v: Vec3 = [random() - 0.5, random() - 0.5, random() - 0.5];
  return scale(v, 1 / norm(v));
};

describe('rotation', () => {
  it('brings every direction upright and turns nothing else away (seed 1)', () => {
    const random = seededRandom(1);
    for (const up of [
      ...Array.from({ length: 50 }, () => direction(random)),
      [0, 0, 1] as const,
      [0, 0, -1] as const,
    ]) {
      const rows = rowsOf(turnUpright(up));
      expect(turned(rows, up).map((x, i) => Math.abs(x - (i === 2 ? 1 : 0)) < 1e-12)).toEqual([true, true, true]);
      expect(norm(turned(rows, [0.3, 0.4, 1.2]))).toBeCloseTo(1.3, 12);
    }
  });

  it('takes a quaternion of any length, and rows as they are', () => {
    expect(rowsOf([0, 0, 5, 5]).map((x) => Math.round(x * 1e12) / 1e12 + 0)).toEqual([0, -1, 0, 1, 0, 0, 0, 0, 1]);
    expect(rowsOf([0, 0, 0, 0])).toEqual([1, 0, 0, 0, 1, 0, 0, 0, 1]);
    const rows = rowsOf([0.1, 0.2, 0.3, 0.4]);
    expect(rowsOf(rows)).toEqual(rows);
  });
});

describe('a pose', () => {
  it('a box on the plate needs no support', () => {
    const measures = poseMeasures(boxMesh([0.1, 0.06, 0.04], [1, 1, 1]), NO_TURN, LIMIT);
    expect(measures.downskinArea).toBeCloseTo(0.006, 12);
    expect(measures.plateArea).toBeCloseTo(0.006, 12);
    expect(measures).toMatchObject({ lowest: 1, supportToPlate: 0, supportToPart: 0 });
    expect(measures.box.map((x) => Math.round(x * 1e9) / 1e9)).toEqual([0.1, 0.06, 0.04]);
  });

  it('a table: the top stands over the plate, a shelf over a foot', () => {
    // A foot 20 high, a post beside nothing, a slab from 50 to 60 over both.
    const part = joinMeshes([
      boxMesh([0.1, 0.1, 0.02]),
      boxMesh([0.1, 0.1, 0.01], [0, 0, 0.05]),
      boxMesh([0.1, 0.1, 0.01], [0.1, 0, 0.05]),
    ]);
    const measures = poseMeasures(part, NO_TURN, LIMIT);
    expect(measures.downskinArea).toBeCloseTo(0.03, 12);
    expect(measures.supportToPlate).toBeCloseTo(0.02 * 0.05, 12);
    expect(measures.supportToPart).toBeCloseTo(0.01 * 0.03 + 0.01 * 0.05, 5);
    expect(measures.supportOnPart).toBeCloseTo(0.01 * 0.03, 5);
  });

  it('the limit angle: a ramp at exactly 45 degrees carries itself, at 44 it does not', () => {
    const ramp = (angle: number) => {
      const run = 0.1 / Math.tan(angle);
      return meshFrom(
        [0, 0, 0, 0, 0.05, 0, run, 0, 0.1, run, 0.05, 0.1, 0, 0, 0.1, 0, 0.05, 0.1],
        [0, 2, 4, 1, 5, 3, 0, 1, 3, 0, 3, 2, 0, 4, 5, 0, 5, 1, 4, 2, 3, 4, 3, 5],
      );
    };
    expect(poseMeasures(ramp(45 * DEGREE), NO_TURN, LIMIT).downskinArea).toBe(0);
    const flat = poseMeasures(ramp(44 * DEGREE), NO_TURN, LIMIT);
    expect(flat.downskinArea).toBeCloseTo((0.05 * 0.1) / Math.sin(44 * DEGREE), 12);
    expect(flat.supportToPlate).toBeCloseTo((0.05 * 0.1 * 0.1) / Math.tan(44 * DEGREE) / 2, 12);
    expect(flat.supportToPart / flat.supportToPlate).toBeCloseTo(1, 1.7);
  });

  it('a level pipe: the crown of the bore needs support to the metal below it only', () => {
    const pipe = pipeMesh({ outer: 0.022, inner: 0.02 }, 0.1, 720);
    const measures = poseMeasures(pipe, turnUpright([1, 0, 0]), { ...LIMIT, raster: 0.0005 });
    const half = (r: number): number => r * Math.SQRT1_2;
    // Between the 45 degree lines: under the outside down to the plate, and across the bore. Closed forms of a circle's segments.
    const under = 2 * (0.022 * half(0.022) - (half(0.022) ** 2 + 0.022 ** 2 * (Math.PI / 4)) / 2);
    const across = 2 * (half(0.02) ** 2 + 0.02 ** 2 * (Math.PI / 4));
    expect(measures.supportToPart / (0.1 * (under + across))).toBeCloseTo(1, 1.7);
    expect(measures.supportOnPart / (0.1 * across)).toBeCloseTo(1, 1.7);
    expect(measures.downskinArea / (0.1 * (Math.PI / 2) * 0.042)).toBeCloseTo(1, 2);
    expect(measures.box[2]).toBeCloseTo(0.044, 9);
  });

  it('column counts settle as columns narrow, and overlapping parts are no overhang of each other', () => {
    const bend = bendMesh({ bend: 0.08, outer: 0.022, inner: 0.02 }, 2, { along: 60, facets: 60 });
    const pose = turnUpright([0.36, 0.48, 0.8]);
    const [coarse = 0, fine = 0, finest = 0] = [0.002, 0.001, 0.0005].map(
      (raster) => poseMeasures(bend, pose, { ...LIMIT, raster }).supportToPart,
    );
    expect(Math.abs(coarse / finest - 1)).toBeLessThan(0.02);
    expect(Math.abs(fine / finest - 1)).toBeLessThan(0.01);
    const boxes = joinMeshes([boxMesh([0.1, 0.1, 0.1]), boxMesh([0.1, 0.1, 0.1], [0, 0, 0.05])]);
    expect(poseMeasures(boxes, NO_TURN, LIMIT).supportToPart).toBe(0);
  });

  it('widens the columns rather than take too many, and says so', () => {
    const { raster } = poseMeasures(boxMesh([1, 1, 0.1]), NO_TURN, { ...LIMIT, raster: 1e-7 });
    expect(raster).toBeGreaterThan(1e-4);
    expect(raster).toBeLessThan(1e-3);
  });

  it('nothing in, nothing out', () => {
    expect(poseMeasures(meshFrom([], []), NO_TURN, LIMIT)).toMatchObject({
      downskinArea: 0,
      supportToPart: 0,
      box: [0, 0, 0],
    });
    expect(searchPoses(meshFrom([], []), LIMIT)).toEqual([]);
  });
});

describe('searching poses', () => {
  const shapes = [
    bendMesh({ bend: 0.08, outer: 0.022, inner: 0.02 }, 2, { along: 30, facets: 40 }),
    moved(torusMesh(0.08, 0.02, { around: 60, section: 30 }), [0.3, -0.2, 0.1]),
    boxMesh([0.1, 0.05, 0.03]),
    ballMesh(0.05, 3),
  ];

  it.each([41, 42])('bins give what going face by face gives (seed %s)', (seed) => {
    const random = seededRandom(seed);
    for (const mesh of shapes) {
      const bins = normalBins(facesOf(mesh));
      const tree = triangleTree(mesh);
      for (const up of [...spreadDirections(40), direction(random), [0, 0, 1] as const, [0, -1, 0] as const]) {
        const overhangAngle = (10 + 75 * random()) * DEGREE;
        const plate = leastAlong(tree, up);
        const whole = poseMeasures(mesh, turnUpright(up), { overhangAngle, raster: 0.02 });
        const found = plateSupport(bins, up, { cosine: Math.cos(overhangAngle), plate });
        expect(plate).toBeCloseTo(whole.lowest, 12);
        expect(Math.abs(found.area - whole.downskinArea)).toBeLessThan(1e-12);
        expect(Math.abs(found.volume - whole.supportToPlate)).toBeLessThan(1e-13);
      }
    }
  });

  it('stands a pipe up: least support, steepest bore; lies it down for least height', () => {
    const pipe = pipeMesh({ outer: 0.022, inner: 0.02 }, 0.2, 60);
    const bores: readonly Vec3[] = [[0, 0, 1]];
    const [upright] = searchPoses(pipe, { ...LIMIT, directions: 200, best: 6, bores });
    expect(Math.abs(upright?.up[2] ?? 0)).toBeCloseTo(1, 9);
    expect(upright).toMatchObject({ supportToPart: 0 });
    expect(upright?.leastBoreAngle).toBeCloseTo(Math.PI / 2, 6);
    const [level] = searchPoses(pipe, { ...LIMIT, directions: 200, best: 6, bores, by: 'height' });
    expect(level?.height).toBeCloseTo(0.044, 4);
    const steep = searchPoses(pipe, { ...LIMIT, directions: 200, best: 6, bores, by: 'bore' });
    expect(steep[0]?.leastBoreAngle).toBeCloseTo(Math.PI / 2, 6);
    const angles = steep.map((choice) => choice.leastBoreAngle ?? 0);
    expect(angles).toEqual([...angles].sort((a, b) => b - a));
  });

  it('gives the same each time, and no angle without bores', () => {
    const [bend] = shapes;
    if (!bend) throw new Error('no shape');
    const once = searchPoses(bend, { ...LIMIT, directions: 100, best: 4 });
    expect(searchPoses(bend, { ...LIMIT, directions: 100, best: 4 })).toEqual(once);
    expect(once.length).toBeGreaterThanOrEqual(4);
    expect(once.every((choice) => choice.leastBoreAngle === undefined)).toBe(true);
    const supports = once.map((choice) => choice.supportToPart);
    expect(supports).toEqual([...supports].sort((a, b) => a - b));
  });
});
