import { describe, expect, it } from 'vitest';
import { boltWorkingLoad } from '../../shared/trade/clamp/bolt-working-load.ts';
import { dowelFit } from '../../shared/trade/clamp/dowel-fit.ts';
import { flangeBow } from '../../shared/trade/clamp/flange-bow.ts';
import { effectiveGasketWidth, gasketLoads } from '../../shared/trade/clamp/gasket-loads.ts';
import { generalTolerance } from '../../shared/trade/clamp/general-tolerance.ts';
import { embeddingDepth, embeddingLoss, thermalPreloadChange } from '../../shared/trade/clamp/joint-change.ts';
import { gasketStressRange, leverClamp } from '../../shared/trade/clamp/lever-clamp.ts';
import { slidingWedge, slidingWedgeBand } from '../../shared/trade/clamp/sliding-wedge.ts';
import { stressArea } from '../../shared/trade/clamp/stress-area.ts';
import { threadEngagement } from '../../shared/trade/clamp/thread-engagement.ts';
import { threadShearArea } from '../../shared/trade/clamp/thread-shear-area.ts';
import { vdiNutFactor } from '../../shared/trade/clamp/vdi-nut-factor.ts';
import { vdiTighteningTorque } from '../../shared/trade/clamp/vdi-tightening-torque.ts';
import { vdiYieldPreload } from '../../shared/trade/clamp/vdi-yield-preload.ts';
import { wedgeBlock } from '../../shared/trade/clamp/wedge-block.ts';
import { wedgeClampForce } from '../../shared/trade/clamp/wedge-clamp-force.ts';
import { wedgeLockingAngle } from '../../shared/trade/clamp/wedge-locking-angle.ts';
import {
  clearanceHoles,
  clearanceHolesSource,
  holeClearance,
  holeSizes,
} from '../../shared/trade/data/clearance-holes.ts';
import { dowelBandsSource } from '../../shared/trade/data/dowel-bands.ts';
import { embeddingSource, jointRoughnesses } from '../../shared/trade/data/embedding.ts';
import {
  type GasketKey,
  gasketKeys,
  gaskets,
  gasketsSource,
  gasketWindows,
  headBearingLimit,
  tightnessConstants,
} from '../../shared/trade/data/gaskets.ts';
import {
  angleTolerances,
  flatnessTolerances,
  geometryClasses,
  geometrySource,
  linearClasses,
  linearSource,
  linearTolerances,
  perpendicularityTolerances,
  radiusTolerances,
  runOutTolerances,
  type Step,
  symmetryTolerances,
  weldmentAngles,
  weldmentClasses,
  weldmentFlatness,
  weldmentFlatnessClasses,
  weldmentSource,
  weldmentTolerances,
} from '../../shared/trade/data/general-tolerances.ts';
import { propertyClasses } from '../../shared/trade/data/property-classes.ts';
import { type ThreadKey, threads } from '../../shared/trade/data/threads.ts';
import {
  bearingFaces,
  hotStudTarget,
  lubrications,
  nutFactors,
  preloadTargets,
  preloadTargetsSource,
  tighteningFactors,
  tighteningMethods,
  tighteningSource,
} from '../../shared/trade/data/tightening.ts';
import { expectNear, knownValue } from './nearness.ts';

const mm = 1e-3;
const MPa = 1e6;
const degree = Math.PI / 180;

/** VDI 2230 tables, kN and N.m, classes 8.8 / 10.9 / 12.9: the fine ones published, the coarse ones own arithmetic that agrees with memory. */
const assembly: readonly (readonly [ThreadKey, number, readonly number[], readonly number[]])[] = [
  ['M8x1', 0.1, [20.7, 30.4, 35.6], [22.8, 33.5, 39.2]],
  ['M8x1', 0.12, [20.2, 29.7, 34.7], [26.1, 38.3, 44.9]],
  ['M8x1', 0.14, [19.7, 28.9, 33.9], [29.2, 42.8, 50.1]],
  ['M10x1.25', 0.1, [32.4, 47.5, 55.6], [44, 65, 76]],
  ['M10x1.25', 0.12, [31.6, 46.4, 54.3], [51, 75, 87]],
  ['M10x1.25', 0.14, [30.8, 45.2, 52.9], [57, 83, 98]],
  ['M12x1.25', 0.1, [49.1, 72.1, 84.4], [79, 116, 135]],
  ['M12x1.25', 0.12, [48, 70.5, 82.5], [90, 133, 155]],
  ['M12x1.25', 0.14, [46.8, 68.7, 80.4], [101, 149, 174]],
  ['M6', 0.1, [10.4, 15.3, 18], [9, 13.2, 15.4]],
  ['M6', 0.12, [10.2, 15, 17.5], [10.1, 14.9, 17.4]],
  ['M6', 0.14, [9.9, 14.6, 17], [11.3, 16.5, 19.3]],
  ['M8', 0.1, [19.1, 28.1, 32.8], [21.6, 31.8, 37.2]],
  ['M8', 0.12, [18.6, 27.4, 32], [24.6, 36.1, 42.2]],
  ['M8', 0.14, [18.1, 26.6, 31.2], [27.3, 40.1, 46.9]],
  ['M10', 0.1, [30.4, 44.6, 52.2], [42.6, 62.6, 73.3]],
  ['M10', 0.12, [29.6, 43.5, 50.9], [48.5, 71.2, 83.3]],
  ['M10', 0.14, [28.8, 42.3, 49.5], [53.9, 79.2, 92.6]],
  ['M12', 0.1, [44.2, 64.9, 75.9], [73.5, 108, 126]],
  ['M12', 0.12, [43.1, 63.3, 74.1], [83.6, 123, 144]],
  ['M12', 0.14, [42, 61.7, 72.2], [93.1, 137, 160]],
];

describe('assembly preload and torque', () => {
  it.each(assembly)('%s at friction %d', (key, friction, forces, torques) => {
    const { diameter, pitch } = threads[key];
    const face = bearingFaces[key];
    if (!face) throw new Error(`no bearing face of ${key}`);
    const bearingDiameter = (face.faceDiameter + face.holeDiameter) / 2;
    for (const [i, name] of (['8.8', '10.9', '12.9'] as const).entries()) {
      const stud = { diameter, pitch, threadFriction: friction };
      const preload = knownValue(
        vdiYieldPreload.evaluate({ ...stud, yieldStrength: propertyClasses[name].yield, utilisation: 0.9 }),
      );
      // The tables round to three digits.
      expectNear(preload, (forces[i] ?? Number.NaN) * 1e3, 8e-3);
      const torque = vdiTighteningTorque.evaluate({ ...stud, preload, headFriction: friction, bearingDiameter });
      expectNear(knownValue(torque), torques[i] ?? Number.NaN, 1.5e-2);
      const nutFactor = vdiNutFactor.evaluate({ ...stud, headFriction: friction, bearingDiameter });
      expectNear(knownValue(nutFactor) * preload * diameter, knownValue(torque), 1e-12);
    }
  });

  // Own arithmetic: nut factor of M8.
  it.each([
    [0.1, 0.142],
    [0.12, 0.165],
    [0.14, 0.188],
  ])('M8 nut factor at friction %d', (friction, expected) => {
    const got = vdiNutFactor.evaluate({
      diameter: 8 * mm,
      pitch: 1.25 * mm,
      threadFriction: friction,
      headFriction: friction,
      bearingDiameter: 10.315 * mm,
    });
    expectNear(knownValue(got), expected, 4e-3);
  });

  it('bands are bands and say where they come from', () => {
    for (const method of tighteningMethods)
      expect(tighteningFactors[method][0]).toBeLessThan(tighteningFactors[method][1]);
    for (const state of lubrications) {
      expect(nutFactors[state].band[0]).toBeLessThan(nutFactors[state].band[1]);
      expect(nutFactors[state].source.document).not.toBe('');
    }
    expect(preloadTargets.reopened).toBeLessThan(preloadTargets.permanent);
    expect(hotStudTarget).toEqual([0.5, 0.7]);
    for (const source of [tighteningSource, preloadTargetsSource, embeddingSource])
      expect(source.document).not.toBe('');
  });
});

describe('what a joint loses', () => {
  // Own arithmetic: M8 stud, 15.5 mm grip, 3.10e-6 and 0.54e-6 mm/N, 11 um: 3.0 kN.
  it('embedding of a short stud', () => {
    expectNear(knownValue(embeddingLoss(11e-6, { stud: 3.1e-9, parts: 0.54e-9 })), 3.0e3, 0.01);
    // VDI 2230 table 5, from memory: thread 3, nut 3, two faces of 2 um.
    expectNear(knownValue(embeddingDepth('medium', 2)), 10e-6, 1e-9);
    const depths = jointRoughnesses.map((roughness) => knownValue(embeddingDepth(roughness, 2)));
    expect(depths).toEqual([...depths].sort((a, b) => a - b));
    expect(embeddingLoss(-1e-6, { stud: 3.1e-9, parts: 0.54e-9 })).toMatchObject({ known: false });
  });

  it('a stud that grows like its flange keeps its preload, one that grows more loses it', () => {
    const joint = { stud: 3.1e-9, parts: 0.54e-9 };
    const warm = (expansion: number, temperature: number) => ({
      expansion,
      length: 0.02,
      temperature,
      referenceTemperature: 293.15,
    });
    expect(knownValue(thermalPreloadChange(warm(1.7e-5, 600), [warm(1.7e-5, 600)], joint))).toBe(0);
    expect(knownValue(thermalPreloadChange(warm(1.7e-5, 600), [warm(1.4e-5, 600)], joint))).toBeLessThan(0);
    const change = knownValue(thermalPreloadChange(warm(1.4e-5, 500), [warm(1.7e-5, 600)], joint));
    expectNear(change, (0.02 * (1.7e-5 * 306.85 - 1.4e-5 * 206.85)) / 3.64e-9, 1e-9);
    expect(thermalPreloadChange(warm(1.4e-5, Number.NaN), [], joint).known).toBe(false);
  });

  it('a bolt in an open joint carries the whole load', () => {
    const at = (preload: number) => knownValue(boltWorkingLoad.evaluate({ preload, load: 10e3, loadShare: 0.49 }));
    expect([at(0), at(5e3), at(8e3)]).toEqual([10e3, 10e3, 12.9e3]);
  });
});

describe('threads in aluminium', () => {
  // Own arithmetic on the handbook form: shear area per length in mm.
  it.each([
    ['M6', 16.5],
    ['M8', 22],
    ['M10', 27.5],
    ['M12', 33],
  ] as const)('%s', (key, expected) => {
    expectNear(knownValue(threadShearArea.evaluate(threads[key])), expected * mm, 1e-3);
  });

  // Own arithmetic: engagement of an A286 stud (896 MPa) at 138 MPa, 1.35 d.
  it('A286 stud', () => {
    const got = threadEngagement.evaluate({
      stressArea: knownValue(stressArea.evaluate(threads.M8)),
      tensileStrength: 896 * MPa,
      shearStrength: 138 * MPa,
      shearAreaPerLength: knownValue(threadShearArea.evaluate(threads.M8)),
    });
    expectNear(knownValue(got), 10.8 * mm, 2e-3);
  });
});

describe('wedges', () => {
  // Own statics: clamp over drive at mu 0, 0.10, 0.15, 0.20, 0.30, printed to two decimals.
  it.each([
    [10, [5.67, 2.62, 2.06, 1.69, 1.25]],
    [15, [3.73, 2.09, 1.71, 1.44, 1.09]],
    [20, [2.75, 1.72, 1.44, 1.24, 0.96]],
    [30, [1.73, 1.22, 1.06, 0.93, 0.73]],
  ] as const)('%d degrees', (angle, row) => {
    for (const [i, friction] of [0, 0.1, 0.15, 0.2, 0.3].entries())
      expectNear(knownValue(slidingWedge(1000, angle * degree, friction)).clamp / 1000, row[i] ?? Number.NaN, 8e-3);
  });

  // Own statics: steepest self-locking wedge, one and two friction faces.
  it.each([
    [0.1, 5.7, 11.4],
    [0.15, 8.5, 17.1],
    [0.2, 11.3, 22.6],
    [0.3, 16.7, 33.4],
  ])('locks at friction %d', (friction, single, both) => {
    const at = (backFriction: number) =>
      knownValue(wedgeLockingAngle.evaluate({ bevelFriction: friction, backFriction })) / degree;
    expectNear(at(0), single, 5e-3);
    expectNear(at(friction), both, 5e-3);
    for (const [step, locks] of [
      [-1e-6, true],
      [1e-6, false],
    ] as const)
      expect(knownValue(slidingWedge(1000, at(friction) * degree + step, friction)).selfLocking).toBe(locks);
  });

  it('30 degrees over a friction band: low friction clamps more and does not lock; about +-25 % in clamp', () => {
    const { low, high } = knownValue(slidingWedgeBand(5000, 30 * degree, [0.1, 0.3]));
    expect(low.clamp).toBeGreaterThan(high.clamp);
    expect([low.selfLocking, high.selfLocking]).toEqual([false, true]);
    const middle = (low.clamp + high.clamp) / 2;
    expectNear(middle / 5000, 0.98, 0.01);
    expectNear((low.clamp - middle) / middle, 0.25, 0.02);
    expect(slidingWedgeBand(5000, 30 * degree, [0.3, 0.1]).known).toBe(false);
  });

  // Own statics: case 2 at 30 and 60 degrees, friction 0.15, 15 kN; page figures.
  it('a block gives no gain of force', () => {
    const at = (angle: number, friction: number) =>
      knownValue(
        wedgeBlock({ boltForce: 15e3, angle: angle * degree, bevelFriction: friction, wallFriction: friction }),
      );
    expectNear(at(30, 0.15).bevel, 15052, 1e-3);
    expectNear(at(30, 0.15).gasket, 14164, 1e-3);
    expectNear(at(30, 0.15).wall, 5571, 1e-3);
    expectNear(at(60, 0.15).gasket / 15e3, 0.84, 5e-3);
    expectNear(at(60, 0.15).wall / 15e3, 1.06, 5e-3);
    for (let angle = 0; angle <= 80; angle += 4) {
      const { gasket, wall } = at(angle, 0.2);
      expect(gasket).toBeLessThanOrEqual(15e3 * (1 + 1e-12));
      expectNear(gasket + 0.2 * wall, 15e3, 1e-9);
    }
    expect(at(5, 0.15).wall).toBe(0);
  });

  // Own statics: case 3 with the resultant at 40 mm.
  it('lever', () => {
    const clamp = {
      boltForce: 15e3,
      boltDistance: 70 * mm,
      gasketDistance: 40 * mm,
      angle: 30 * degree,
      friction: 0.15,
    };
    const got = knownValue(leverClamp(clamp));
    expectNear(got.gasket, 26.25e3, 1e-3);
    expectNear(got.ledge, 11.25e3, 1e-3);
    expectNear(got.hold, 4.42e3, 2e-3);
    expectNear(got.gasketFrictionNeeded, 0.169, 4e-3);
    expect(leverClamp({ ...clamp, boltDistance: 30 * mm }).known).toBe(false);
  });

  it('an eccentric load lifts an edge of a strip once it leaves the middle third', () => {
    const strip = { force: 1000, area: 1e-3, halfLength: 0.05, secondMoment: (0.01 * 0.1 ** 3) / 12 };
    const least = (eccentricity: number) => knownValue(gasketStressRange({ ...strip, eccentricity }))[0];
    expect(least(0)).toBeCloseTo(1e6, 3);
    expect(least(0.1 / 6 - 1e-6)).toBeGreaterThan(0);
    expect(least(0.1 / 6 + 1e-6)).toBeLessThan(0);
  });

  it('a wedge as steep as friction allows no more is refused', () => {
    const steep = wedgeClampForce.evaluate({ drive: 1, angle: 1.4, bevelFriction: 0.6, backFriction: 0 });
    expect(steep).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
  });
});

describe('gaskets', () => {
  // ASME VIII-1 table 2-5.1 as three makers print it; MPa by own arithmetic.
  it.each([
    ['graphite-sheet', 2, 17.2],
    ['spiral-wound', 3, 68.9],
    ['corrugated-filled-aluminium', 2.5, 20],
    ['corrugated-filled-stainless', 3.5, 44.8],
    ['corrugated-aluminium', 2.75, 25.5],
    ['corrugated-iron', 3.25, 37.9],
    ['corrugated-stainless', 3.75, 52.4],
    ['jacketed-aluminium', 3.25, 37.9],
    ['jacketed-stainless', 3.75, 62.1],
    ['grooved-stainless', 4.25, 69.6],
    ['solid-aluminium', 4, 60.7],
    ['solid-copper', 4.75, 89.6],
    ['solid-iron', 5.5, 124],
    ['solid-nickel-copper', 6, 150],
    ['solid-stainless', 6.5, 179],
  ] as const)('%s', (key: GasketKey, factor, seating) => {
    expect(gaskets[key].factor).toBe(factor);
    expectNear(gaskets[key].seatingStress, seating * MPa, 4e-3);
  });

  it('within a family a harder metal needs more', () => {
    expect(gasketKeys).toHaveLength(28);
    for (const family of ['corrugated-filled', 'corrugated', 'grooved', 'solid']) {
      const row = (['aluminium', 'copper', 'iron', 'nickel-copper', 'stainless'] as const).map((metal) => {
        const key = gasketKeys.find((each) => each === `${family}-${metal}`);
        return key ? gaskets[key].seatingStress : Number.NaN;
      });
      expect(row).toEqual([...row].sort((a, b) => a - b));
      expect(row.every(Number.isFinite)).toBe(true);
    }
    expect(gasketsSource.trust).toBe('excerpt');
    expect(Object.values(gasketWindows).every(({ least, greatest }) => greatest === null || least < greatest)).toBe(
      true,
    );
    expect(headBearingLimit[0]).toBeLessThan(headBearingLimit[1]);
    expectNear(tightnessConstants['spiral-wound'].seating, 15.86 * MPa, 1e-3);
  });

  // Own arithmetic: spiral wound ring 45/55 at 0.2 MPa; b0 7.5 mm.
  it('spiral wound and a wide ring', () => {
    const got = knownValue(
      gasketLoads({
        insideDiameter: 45 * mm,
        outsideDiameter: 55 * mm,
        factor: 3,
        seatingStress: 68.9 * MPa,
        pressure: 0.2 * MPa,
      }),
    );
    expectNear(got.running, 864, 1e-3);
    expectNear(got.seating, 27057, 1e-3);
    expectNear(knownValue(effectiveGasketWidth(7.5 * mm)), 6.85 * mm, 1e-3);
    const wide = gasketLoads({
      insideDiameter: 70 * mm,
      outsideDiameter: 100 * mm,
      factor: 2,
      seatingStress: 1,
      pressure: 0,
    });
    expectNear(knownValue(wide).diameter, (100 - 13.69) * mm, 1e-3);
    expect(effectiveGasketWidth(-1).known).toBe(false);
  });

  // Own arithmetic: 50 mm wide, 90 mm pitch, 15 kN, 165 GPa; simply supported five times as much.
  it.each([
    [8, 0.081],
    [10, 0.041],
    [12, 0.024],
  ])('flange bow at %d mm', (thickness, bow) => {
    const at = (endFactor: number) =>
      knownValue(
        flangeBow.evaluate({
          load: 15e3,
          pitch: 90 * mm,
          width: 50 * mm,
          thickness: thickness * mm,
          modulus: 165e9,
          endFactor,
        }),
      );
    expectNear(at(1), bow * mm, 0.02);
    expectNear(at(5), 5 * at(1), 1e-12);
  });
});

describe('fits and holes', () => {
  // ISO 286-2, um: greatest and least clearance of an m6 dowel in H7, H8, F8.
  it.each([
    [2, [8, -8, 12, -8, 18, -2]],
    [3, [8, -8, 12, -8, 18, -2]],
    [5, [8, -12, 14, -12, 24, -2]],
    [6, [8, -12, 14, -12, 24, -2]],
    [8, [9, -15, 16, -15, 29, -2]],
  ] as const)('%d mm dowel', (diameter, row) => {
    for (const [i, hole] of (['H7', 'H8', 'F8'] as const).entries()) {
      const { least, greatest } = knownValue(dowelFit(diameter * mm, hole));
      expect([greatest * 1e6, least * 1e6].map(Math.round)).toEqual([row[2 * i], row[2 * i + 1]]);
    }
  });

  it('outside 1 to 10 mm is unknown', () => {
    for (const bad of [0.5, 10.1, Number.NaN])
      expect(dowelFit(bad * mm, 'H7')).toMatchObject({ known: false, why: { reason: 'outOfValidity' } });
    expect(dowelBandsSource.note).toContain('F8');
  });

  // ISO 273, from memory.
  it('clearance holes', () => {
    expectNear(holeClearance('M8', 'medium'), 0.5 * mm, 1e-9);
    expectNear(holeClearance('M12', 'coarse'), 1.25 * mm, 1e-9);
    for (const size of holeSizes) {
      const { fine, medium, coarse } = clearanceHoles[size];
      expect(fine < medium && medium < coarse).toBe(true);
    }
    expect(clearanceHolesSource.trust).toBe('memory');
  });
});

describe('general tolerances', () => {
  const at = (table: readonly Step[], length: number, from?: number) =>
    knownValue(generalTolerance(table, length * mm, from)) / mm;

  // ISO 2768-1 and ISO 13920 rows at a length inside each step.
  it.each([
    [2, 0.1, 0.2],
    [5, 0.1, 0.3],
    [20, 0.2, 0.5],
    [85, 0.3, 0.8],
    [180, 0.5, 1.2],
    [700, 0.8, 2],
    [1500, 1.2, 3],
    [3000, 2, 4],
  ])('%d mm in m and c', (length, m, c) => {
    expectNear(at(linearTolerances.m, length), m, 1e-9);
    expectNear(at(linearTolerances.c, length), c, 1e-9);
  });

  it.each([
    [20, [1, 1, 1, 1]],
    [100, [1, 2, 3, 4]],
    [350, [1, 2, 4, 7]],
    [900, [2, 3, 6, 9]],
    [1500, [3, 4, 8, 12]],
    [3500, [4, 6, 11, 16]],
  ] as const)('weldment of %d mm', (length, row) => {
    for (const [i, name] of weldmentClasses.entries())
      expectNear(at(weldmentTolerances[name], length, 2 * mm), row[i] ?? 0, 1e-9);
  });

  // ISO 13920 prints angles as mm/m too: A 6, 4.5, 3; B 13, 9, 6; C 18, 13, 9; D 26, 22, 18.
  it.each([
    ['A', [6, 4.5, 3]],
    ['B', [13, 9, 6]],
    ['C', [18, 13, 9]],
    ['D', [26, 22, 18]],
  ] as const)('weldment angles %s', (name, row) => {
    for (const [i, length] of [300, 700, 2000].entries()) {
      const angle = knownValue(generalTolerance(weldmentAngles[name], length * mm));
      expectNear(Math.tan(angle) * 1e3, row[i] ?? 0, 0.04);
    }
  });

  it('a step ends at its bound, the standard gives no fine class above 2 m and no v below 3 mm', () => {
    expect(at(linearTolerances.f, 30)).toBeCloseTo(0.1, 12);
    expect(at(linearTolerances.f, 30.001)).toBeCloseTo(0.15, 12);
    for (const bad of [
      generalTolerance(linearTolerances.f, 3),
      generalTolerance(linearTolerances.v, 2 * mm),
      generalTolerance(linearTolerances.m, 4.1),
      generalTolerance(linearTolerances.m, 0.4 * mm),
      generalTolerance(linearTolerances.m, Number.NaN),
      generalTolerance(weldmentFlatness.E, 20 * mm),
    ])
      expect(bad).toMatchObject({ known: false, why: { reason: 'outOfValidity' } });
  });

  it('a coarser class and a longer part never get less', () => {
    const rising = (table: readonly Step[]) => {
      const values = table.flatMap(([, value]) => (value === null ? [] : [value]));
      expect(values).toEqual([...values].sort((a, b) => a - b));
    };
    const falling = (table: readonly Step[]) => rising([...table].reverse());
    for (const name of linearClasses) {
      rising(linearTolerances[name]);
      rising(radiusTolerances[name]);
      falling(angleTolerances[name]);
    }
    for (const name of geometryClasses) {
      for (const table of [flatnessTolerances, perpendicularityTolerances, symmetryTolerances]) rising(table[name]);
      expect(runOutTolerances[name]).toBeGreaterThan(0);
    }
    for (const name of weldmentFlatnessClasses) rising(weldmentFlatness[name]);
    expect(runOutTolerances.H).toBeLessThan(runOutTolerances.L);
    for (const source of [linearSource, geometrySource, weldmentSource]) expect(source.note).not.toBe('');
  });
});
