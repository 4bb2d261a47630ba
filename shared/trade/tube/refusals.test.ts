import { describe, expect, it } from 'vitest';
import { knownValue } from '../../../tests/reference/nearness.ts';
import { expectRefusal } from '../../../tests/support/validityTable.ts';
import { bendOvality } from './bend-ovality.ts';
import { bendPoints, bendTable } from './bend-table.ts';
import { bendWallInside } from './bend-wall-inside.ts';
import { bendWallOutside } from './bend-wall-outside.ts';
import { biarc } from './biarc.ts';
import { chordAngleForError } from './chord-angle-for-error.ts';
import { collectorArea, collectorSize, collectorTrim } from './collector.ts';
import { copeDepth, copeHole, copeTemplate } from './cope.ts';
import { bestCutPlan, bestFitDecreasing, type CutJob, cutBounds, firstFitDecreasing } from './cutting-stock.ts';
import { mitreBend, mitreTemplate } from './mitre-bend.ts';

const text = (got: unknown) => JSON.stringify(got);

describe('bends say what was expected and what came', () => {
  it('wall inside and outside need a bend round the tube', () => {
    const tube = { wall: 2e-3, outsideDiameter: 0.04 };
    const outside = (input: string, value: number) => ({
      known: false,
      why: { reason: 'outOfValidity', input, value, range: [0.02, 5], unit: 'length' },
    });
    for (const radius of [0.02, 0.019])
      expect(bendWallInside.evaluate({ ...tube, radius })).toEqual(outside('bend-wall-inside: radius', radius));
    expect(bendWallOutside.evaluate({ ...tube, radius: 0.019 })).toEqual(outside('bend-wall-outside: radius', 0.019));
    // Half the diameter: the outer wall is at twice the radius.
    expect(knownValue(bendWallOutside.evaluate({ ...tube, radius: 0.02 }))).toBeCloseTo(1e-3, 12);
  });

  it('ovality: the largest diameter is not the smaller', () => {
    expect(knownValue(bendOvality.evaluate({ largest: 0.04, smallest: 0.04, nominal: 0.04 }))).toBe(0);
    expectRefusal(
      bendOvality.evaluate({ largest: 0.039, smallest: 0.04, nominal: 0.04 }),
      'bend-ovality: expected the largest diameter at or above the smallest (0.04), got 0.039',
    );
  });

  it('a chord as far off as the radius is half a turn, farther there is none', () => {
    expect(knownValue(chordAngleForError.evaluate({ radius: 0.05, error: 0.05 }))).toBeCloseTo(Math.PI, 12);
    expect(chordAngleForError.evaluate({ radius: 0.05, error: 0.051 })).toEqual({
      known: false,
      why: {
        reason: 'outOfValidity',
        input: 'chord-angle-for-error: error',
        value: 0.051,
        range: [1e-7, 0.05],
        unit: 'length',
      },
    });
  });
});

describe('bend table', () => {
  const right = [
    [0, 0, 0],
    [1, 0, 0],
    [1, 1, 0],
  ] as const;

  it('radius, points', () => {
    for (const radius of [0, -1, 5.1, Number.NaN])
      expectRefusal(bendTable(right, radius), `bend table: expected a radius above 0 and up to 5 m, got ${radius}`);
    expectRefusal(bendTable(right.slice(0, 1), 0.1), 'bend table: expected at least two points, got 1');
    expectRefusal(
      bendTable([...right, [0, 0, Number.NaN]], 0.1),
      'bend table: expected finite points, got one that is not',
    );
    expectRefusal(
      bendTable([right[0], right[1], right[1]], 0.1),
      'bend table: expected points apart from each other, got points 2 and 3 in one place',
    );
    expectRefusal(
      bendTable([right[0], right[1], right[0]], 0.1),
      'bend table: expected corners below 180 degrees, got one that turns back at 1, 0, 0 m',
    );
  });

  it('a radius of 5 m is the largest; bends that just meet are a tube, ones that overlap are not', () => {
    const wide = right.map(([x, y, z]) => [6 * x, 6 * y, 6 * z] as const);
    expect(knownValue(bendTable(wide, 5)).rows[0]?.length).toBeCloseTo(1, 12);
    // A right angle takes its radius off each leg: 1 m legs at 1 m radius leave nothing.
    const table = knownValue(bendTable(right, 1));
    expect(table.tail).toBeCloseTo(0, 12);
    expect(table.developed).toBeCloseTo(Math.PI / 2, 12);
    expect(text(bendTable(right, 1.25))).toMatch(
      /bend table: expected straights of 0 m or more, got -0\.2(5|49999)\d* m at straight 1: the bends overlap/,
    );
    // The first leg is long enough, the last one is not.
    const short = [right[0], [2, 0, 0], [2, 0.5, 0]] as const;
    expect(text(bendTable(short, 1))).toMatch(
      /bend table: expected straights of 0 m or more, got -0\.(5|49999)\d* m at straight 2: the bends overlap/,
    );
  });

  it('read back, each number has to be one', () => {
    const row = { length: 0.1, rotation: 0, angle: 1, radius: 0.1 };
    expect(bendPoints({ rows: [row], tail: 0 }).known).toBe(true);
    for (const wrong of [
      { length: -0.01 },
      { radius: 0 },
      { angle: 0 },
      { angle: Math.PI },
      { rotation: Number.NaN },
      { rotation: Number.POSITIVE_INFINITY },
    ])
      expectRefusal(
        bendPoints({ rows: [row, { ...row, ...wrong }], tail: 0 }),
        'bend table: expected length >= 0, radius > 0 and 0 < angle < 180 degrees in row 2',
      );
    expectRefusal(
      bendPoints({ rows: [row], tail: -0.01 }),
      'bend table: expected a last straight of 0 m or more, got -0.01',
    );
  });
});

describe('biarc', () => {
  it('needs two points and two tangents that lead to each other', () => {
    const words = 'biarc: expected two points apart and two tangents that are not zero';
    expectRefusal(biarc([0, 0, 0], [1, 0, 0], [0, 0, 0], [1, 0, 0]), words);
    expectRefusal(biarc([0, 0, 0], [0, 0, 0], [1, 0, 0], [1, 0, 0]), words);
    expectRefusal(biarc([0, 0, 0], [1, 0, 0], [1, 0, 0], [0, 0, 0]), words);
    expectRefusal(biarc([0, 0, 0], [1, 0, 0], [Number.NaN, 0, 0], [1, 0, 0]), words);
    expect(text(biarc([0, 0, 0], [-1, 0, 0], [1, 0, 0], [-1, 0, 0]))).toMatch(
      /biarc: expected tangents that lead to each other, got an arm of -0\.25 m/,
    );
  });

  // A half turn of radius 1: two quarter turns, arms of 1.
  it('a half turn is two quarters', () => {
    const { arm, joint, arcs } = knownValue(biarc([0, 0, 0], [0, 1, 0], [2, 0, 0], [0, -1, 0]));
    expect(arm).toBeCloseTo(1, 12);
    expect(joint.map((x) => Math.round(x * 1e9) / 1e9)).toEqual([1, 1, 0]);
    for (const arc of arcs) {
      expect(arc.radius).toBeCloseTo(1, 12);
      expect(arc.angle).toBeCloseTo(Math.PI / 2, 12);
      expect(arc.length).toBeCloseTo(Math.PI / 2, 12);
    }
  });

  it('a straight has no curvature', () => {
    const { arcs } = knownValue(biarc([0, 0, 0], [1, 0, 0], [2, 0, 0], [1, 0, 0]));
    for (const arc of arcs) expect(arc).toEqual({ radius: Number.POSITIVE_INFINITY, angle: 0, length: 1 });
  });
});

describe('collectors, copes, mitres', () => {
  const collector = { tubes: 4, halfAngle: 0.2, tubeRadius: 0.02, outletDiameter: 0.05 };
  it('collector', () => {
    expectRefusal(collectorSize({ ...collector, tubes: 3.5 }), 'collector: expected a whole number of tubes, got 3.5');
    expectRefusal(collectorArea(3.5, 0.02, 0.01), 'collector-area: expected a whole number of tubes, got 3.5');
    expectRefusal(collectorTrim(collector, Number.NaN), 'collector: expected a finite angle round the tube, got NaN');
    // Two tubes of radius 20 mm side by side are 80 mm wide.
    expectRefusal(
      collectorSize({ ...collector, tubes: 2, outletDiameter: 0.08 }),
      'collector: expected an outlet smaller than the bundle (0.08 m), got 0.08 m',
    );
    expect(collectorSize({ ...collector, tubes: 2, outletDiameter: 0.0799 }).known).toBe(true);
  });

  const cope = { mainRadius: 0.03, outerRadius: 0.02, innerRadius: 0.018, angle: 0.8, offset: 0 };
  it('cope', () => {
    for (const innerRadius of [0.02, 0.021])
      for (const got of [
        copeDepth({ ...cope, innerRadius }, 0),
        copeTemplate({ ...cope, innerRadius }, 8),
        copeHole({ ...cope, innerRadius }, 8),
      ])
        expectRefusal(got, `cope: expected an inner radius below the outer one (0.02 m), got ${innerRadius} m`);
    for (const offset of [0.015, -0.015])
      expect(text(copeDepth({ ...cope, offset }, 0))).toContain(
        'cope: expected the branch inside the main (|offset| + radius <= 0.03 m), got 0.035 m',
      );
    expect(copeDepth({ ...cope, offset: 0.01 }, 0).known).toBe(true);
    expect(copeDepth({ ...cope, outerRadius: 0.03 }, 0).known).toBe(true);
    expectRefusal(
      copeDepth(cope, Number.POSITIVE_INFINITY),
      'cope: expected a finite angle round the branch, got Infinity',
    );
    // A square branch as wide as the main: the cut is as deep as the radius at the far side and nothing at the flank.
    const square = { ...cope, outerRadius: 0.03, angle: Math.PI / 2 };
    const { outer } = knownValue(copeDepth(square, Math.PI / 2));
    expect(outer).toBeCloseTo(0, 9);
    expect(knownValue(copeDepth(square, 0)).outer).toBeCloseTo(0.03, 12);
    const rows = knownValue(copeTemplate(square, 4));
    expect(rows).toHaveLength(5);
    expect(rows[1]?.[0]).toBeCloseTo((Math.PI / 2) * 0.03, 12);
    const hole = knownValue(copeHole({ ...cope, angle: Math.PI / 2, offset: 0.01 }, 4));
    expect(hole.map(([x, y]) => [Math.round(x * 1e6), Math.round(y * 1e6)])).toEqual([
      [-18000, 10000],
      [-0, 28000],
      [18000, 10000],
      [0, -8000],
    ]);
  });

  const bend = { angle: Math.PI / 2, radius: 0.06, outsideDiameter: 0.04, convention: 'A' as const, count: 4 };
  it('mitre', () => {
    expectRefusal(mitreBend({ ...bend, count: 2.5 }), 'mitre-bend: expected a whole number of cuts, got 2.5');
    for (const radius of [0.02, 0.019])
      expectRefusal(
        mitreBend({ ...bend, radius }),
        `mitre-bend: expected a radius above half the diameter (0.02 m), got ${radius} m`,
      );
    expect(mitreTemplate({ ...bend, count: 2.5 }, 8)).toMatchObject({ known: false });
    const rows = knownValue(mitreTemplate(bend, 4.9));
    expect(rows).toHaveLength(4);
    // tan of half of 22.5 degrees times 80, 60, 40, 60 mm.
    const half = Math.tan(Math.PI / 16);
    for (const [i, reach] of [0.08, 0.06, 0.04, 0.06].entries()) {
      expect(rows[i]?.[1]).toBeCloseTo(reach * half, 12);
      expect(rows[i]?.[0]).toBeCloseTo((i * Math.PI * 0.04) / 4, 12);
    }
  });
});

describe('cutting stock', () => {
  const makers = [firstFitDecreasing, bestFitDecreasing, cutBounds, (job: CutJob) => bestCutPlan(job)];
  it('jobs that are none', () => {
    for (const make of makers) {
      for (const [stock, kerf] of [
        [0, 0],
        [-1, 0],
        [1, -0.1],
        [Number.NaN, 0],
        [1, Number.NaN],
        [Number.POSITIVE_INFINITY, 0],
        [1, Number.POSITIVE_INFINITY],
      ] as const)
        expectRefusal(
          make({ stock, pieces: [], kerf }),
          `cutting stock: expected stock > 0 and kerf >= 0, got ${stock} and ${kerf}`,
        );
      expectRefusal(
        make({ stock: 1, pieces: Array.from({ length: 501 }, () => 0.5), kerf: 0 }),
        'cutting stock: expected at most 500 pieces, got 501',
      );
      for (const piece of [0, -1, 1.1, Number.NaN])
        expectRefusal(
          make({ stock: 1, pieces: [0.5, piece], kerf: 0 }),
          `cutting stock: expected piece 2 above 0 and at most the stock 1, got ${piece}`,
        );
      expect(make({ stock: 1, pieces: [1, 1], kerf: 0.1 }).known).toBe(true);
    }
    expect(firstFitDecreasing({ stock: 1, pieces: Array.from({ length: 500 }, () => 0.5), kerf: 0 }).known).toBe(true);
  });

  it('first fit takes the first length with room, best fit the fullest', () => {
    // Falling: 7, 6, 3, 2. First fit puts 3 on the 7; 2 goes on the 6. Best fit does the same; then 8, 7 and a 2: best fit fills the 8.
    const job = { stock: 10, pieces: [2, 3, 6, 7], kerf: 0 };
    expect(knownValue(firstFitDecreasing(job))).toEqual([
      [3, 1],
      [2, 0],
    ]);
    const tie = { stock: 10, pieces: [6, 7, 2, 3], kerf: 0 };
    expect(knownValue(bestFitDecreasing(tie))).toEqual([
      [1, 3],
      [0, 2],
    ]);
    const apart = { stock: 10, pieces: [6, 5, 5, 4, 3, 3, 2], kerf: 0 };
    expect(knownValue(firstFitDecreasing(apart))).toEqual([
      [0, 3],
      [1, 2],
      [4, 5, 6],
    ]);
    // Room of 4 and 3 and 2 left: a piece of 2 goes where 2 is left.
    const snug = { stock: 10, pieces: [6, 7, 8, 2], kerf: 0 };
    expect(knownValue(bestFitDecreasing(snug))).toEqual([[2, 3], [1], [0]]);
    expect(knownValue(firstFitDecreasing({ ...snug, pieces: [6, 7, 8, 3] }))).toEqual([[2], [1, 3], [0]]);
  });

  it('bounds: by length, and by pieces that cannot share', () => {
    expect(knownValue(cutBounds({ stock: 10, pieces: [6, 6, 6], kerf: 0 }))).toEqual({ volume: 2, largePieces: 3 });
    expect(knownValue(cutBounds({ stock: 10, pieces: [5, 5], kerf: 0 }))).toEqual({ volume: 1, largePieces: 1 });
    expect(knownValue(cutBounds({ stock: 10, pieces: [7, 7, 4], kerf: 0 }))).toEqual({ volume: 2, largePieces: 3 });
    expect(knownValue(cutBounds({ stock: 10, pieces: [], kerf: 0 }))).toEqual({ volume: 0, largePieces: 0 });
    // Each piece pays its cut, the stock one more: 3 x 1.1 in 3.3.
    expect(knownValue(cutBounds({ stock: 3.2, pieces: [1, 1, 1], kerf: 0.1 })).volume).toBe(1);
  });

  it('effort that does not do says between what the answer lies', () => {
    // 180 degree bends in degrees: heuristics need 3, two are enough, the search needs more than one step.
    const job = { stock: 180, pieces: [60, 52, 52, 45, 45, 45, 30, 22], kerf: 0 };
    expectRefusal(
      bestCutPlan(job, 1),
      'cutting stock: expected a best plan within 1 steps, got none; between 2 and 3 lengths',
    );
    expect(knownValue(bestCutPlan(job))).toHaveLength(2);
  });
});
