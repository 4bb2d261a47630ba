import { describe, expect, it } from 'vitest';
import { buildCentreline } from '../centreline.ts';
import type { Vec3 } from '../vector.ts';
import { BoreFinder } from './boreTilt.ts';
import { rotationOfTurns } from './fixedTurns.ts';
import { overhangReach } from './overhangReach.ts';
import { poseSurface } from './poseSurface.ts';
import { ballMesh, bendMesh, boxMesh, moved, pipeMesh } from './shapes.fixture.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import { joinMeshes } from './triangleMesh.ts';
import { triangleTree } from './triangleTree.ts';

const degree = Math.PI / 180;
const overhangAngle = 45 * degree;
const lying: Vec3 = [0, 1, 0];
const pipe = (length: number): TriangleMesh => pipeMesh({ outer: 0.012, inner: 0.01 }, length, 90);

describe('reach of a support', () => {
  it('is free on the outside of anything', () => {
    expect(overhangReach(ballMesh(0.03, 4), { up: [0, 0, 1], overhangAngle })).toEqual({
      trappedArea: 0,
      trappedAt: null,
    });
  });

  it('ends some three diameters from the open end of a tube', () => {
    // Both ends open: up to six diameters everything is within three of one.
    expect(overhangReach(pipe(0.1), { up: lying, overhangAngle }).trappedArea).toBe(0);
    const { trappedArea, trappedAt } = overhangReach(pipe(0.4), { up: lying, overhangAngle });
    // The crown of the bore is a quarter of its circumference wide, less two facets.
    const crown = (Math.PI / 2) * 0.01 * (0.4 - 6 * 0.02);
    expect(trappedArea).toBeGreaterThan(0.75 * crown);
    expect(trappedArea).toBeLessThan(1.25 * crown);
    expect(Math.hypot(trappedAt?.[0] ?? 0, trappedAt?.[1] ?? 0)).toBeLessThan(0.0101);
    expect(trappedAt?.[1]).toBeGreaterThan(0);
  });

  it('is none in a sealed volume', () => {
    const box = boxMesh([0.04, 0.04, 0.04]);
    const inside = boxMesh([0.02, 0.02, 0.02], [0.01, 0.01, 0.01]);
    const hollow = joinMeshes([box, { positions: inside.positions, indices: inside.indices.slice().reverse() }]);
    const { trappedArea, trappedAt } = overhangReach(hollow, { up: [0, 0, 1], overhangAngle });
    expect(trappedArea).toBeCloseTo(0.02 * 0.02, 12);
    expect(trappedAt?.[2]).toBeCloseTo(0.03, 12);
  });

  it('does not ask for what lies on the plate or carries itself', () => {
    const pocket = pipe(0.4);
    expect(overhangReach(pocket, { up: [0, 0, 1], overhangAngle })).toEqual({ trappedArea: 0, trappedAt: null });
    expect(
      overhangReach({ positions: new Float64Array(), indices: new Uint32Array() }, { up: lying, overhangAngle }),
    ).toEqual({
      trappedArea: 0,
      trappedAt: null,
    });
  });
});

describe('faces of a pose', () => {
  it('name the largest that hangs, and not the one on the plate', () => {
    const table = joinMeshes([boxMesh([0.01, 0.01, 0.05]), boxMesh([0.08, 0.06, 0.004], [-0.03, -0.02, 0.06])]);
    const { hangingArea, hangingAt, slope } = poseSurface(table, rotationOfTurns([0, 0, 0]), overhangAngle);
    expect(hangingAt?.[2]).toBeCloseTo(0.06, 12);
    expect(hangingArea).toBeCloseTo(0.08 * 0.06, 12);
    expect(slope).toBe(Math.PI / 2);
    expect(poseSurface(boxMesh([0.01, 0.01, 0.05]), rotationOfTurns([0, 0, 0]), overhangAngle)).toMatchObject({
      hangingArea: 0,
      hangingAt: null,
    });
  });

  it('slope as they are turned', () => {
    const box = boxMesh([0.02, 0.02, 0.02]);
    for (const lean of [10, 25, 45]) {
      const { slope } = poseSurface(box, rotationOfTurns([lean * degree, 0, 0]), overhangAngle);
      expect(slope).toBeCloseTo(lean * degree, 9);
    }
    // Nearer to level than three degrees it counts as level.
    expect(poseSurface(box, rotationOfTurns([2 * degree, 0, 0]), overhangAngle).slope).toBeCloseTo(88 * degree, 9);
  });
});

describe('the bore that lies flattest', () => {
  const bend = bendMesh({ bend: 0.08, outer: 0.02, inner: 0.018 }, Math.PI / 2, { along: 90, facets: 90 });
  // Along the bend from x to y about z, with straights before and after that no bore surrounds.
  const line = buildCentreline([
    { x: 0.08, y: -0.05, z: 0, radius: 0 },
    { x: 0.08, y: 0.08, z: 0, radius: 0.08 },
    { x: -0.05, y: 0.08, z: 0, radius: 0 },
  ]);
  if (!line.ok) throw new Error(line.code);
  const bent = new BoreFinder(triangleTree(bend));

  it('is found where the bend comes nearest to level', () => {
    const found = bent.flattest(line, { reach: 0.021, up: [0, 1, 0] });
    // Upright at its beginning, level at its end, which is the last place in the bore.
    expect(found?.tilt).toBeLessThan(2 * degree);
    expect(found?.diameter).toBeGreaterThan(0.0358);
    expect(found?.diameter).toBeLessThan(0.0361);
    expect(found?.at[0]).toBeLessThan(0.004);
    expect(found?.s).toBeCloseTo(0.05 + (0.08 * Math.PI) / 2, 2);
  });

  it('is as steep as its flattest place', () => {
    const leaning = bent.flattest(line, { reach: 0.021, up: [Math.SQRT1_2, Math.SQRT1_2, 0] });
    // 45 degrees at both ends, level in the middle.
    expect(leaning?.tilt).toBeLessThan(1 * degree);
    expect(leaning?.s).toBeCloseTo(0.05 + (0.08 * Math.PI) / 4, 2);
  });

  it('hides where no straight tool reaches its crown', () => {
    // Half a turn on a narrow bore: neither end sees the middle.
    const long = bendMesh({ bend: 0.08, outer: 0.01, inner: 0.008 }, Math.PI, { along: 180, facets: 60 });
    const round = buildCentreline([
      { x: 0.08, y: -0.05, z: 0, radius: 0 },
      { x: 0.08, y: 0.08, z: 0, radius: 0.08 },
      { x: -0.08, y: 0.08, z: 0, radius: 0.08 },
      { x: -0.08, y: -0.05, z: 0, radius: 0 },
    ]);
    if (!round.ok) throw new Error(round.code);
    const finder = new BoreFinder(triangleTree(long));
    const look = { reach: 0.011, up: [0, 1, 0] } as const;
    const [flattest, hidden] = [finder.flattest(round, look), finder.flattest(round, look, true)];
    expect(hidden).toEqual(flattest);
    expect(hidden?.tilt).toBeLessThan(1 * degree);
    // A short straight bore is reached all along, however it lies.
    const stub = new BoreFinder(triangleTree(pipe(0.06)));
    const axis = buildCentreline([
      { x: 0, y: 0, z: -0.01, radius: 0 },
      { x: 0, y: 0, z: 0.07, radius: 0 },
    ]);
    if (!axis.ok) throw new Error(axis.code);
    const lyingStub = { reach: 0.011, up: lying };
    expect(stub.flattest(axis, lyingStub)?.tilt).toBeCloseTo(0, 9);
    expect(stub.flattest(axis, lyingStub, true)).toBeUndefined();
  });

  it('is none beside the part, in its metal, or where the wall is farther than its reach', () => {
    const up: Vec3 = [0, 1, 0];
    expect(new BoreFinder(triangleTree(moved(bend, [0, 0, 0.1]))).flattest(line, { reach: 0.021, up })).toBeUndefined();
    expect(bent.flattest(line, { reach: 0.017, up })).toBeUndefined();
    const solid = triangleTree(boxMesh([0.3, 0.3, 0.02], [-0.1, -0.1, -0.01]));
    expect(new BoreFinder(solid).flattest(line, { reach: 0.021, up })).toBeUndefined();
  });
});
