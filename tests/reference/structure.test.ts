import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../shared/geometry/random.ts';
import { constrainedStress } from '../../shared/trade/strength/constrained-stress.ts';
import { constrainedStressBiaxial } from '../../shared/trade/strength/constrained-stress-biaxial.ts';
import { firingFrequency } from '../../shared/trade/strength/firing-frequency.ts';
import { firstModeFrequency } from '../../shared/trade/strength/first-mode-frequency.ts';
import { type GapBar, gapBar } from '../../shared/trade/strength/gap-bar.ts';
import { guidedBendStress } from '../../shared/trade/strength/guided-bend-stress.ts';
import { hoopStress } from '../../shared/trade/strength/hoop-stress.ts';
import { lameBoreStress } from '../../shared/trade/strength/lame-bore-stress.ts';
import { pipeWall, wallCoefficient, wallFamilies, weldStrengthFactor } from '../../shared/trade/strength/pipe-wall.ts';
import { slipJointHotClearance } from '../../shared/trade/strength/slip-joint-hot-clearance.ts';
import { slipJointLoss } from '../../shared/trade/strength/slip-joint-loss.ts';
import { tubeSection } from '../../shared/trade/strength/tube-section.ts';
import { tubeSectionModulus } from '../../shared/trade/strength/tube-section-modulus.ts';
import { vibrationAmplification } from '../../shared/trade/strength/vibration-amplification.ts';
import { wallGradientStress } from '../../shared/trade/strength/wall-gradient-stress.ts';
import { expectNear, knownValue } from './nearness.ts';

const C = 273.15;
const mm = 1e-3;
const MPa = 1e6;

describe('tube sections', () => {
  // Own arithmetic: D x t, A mm2, I mm4, Z mm3, kg/m in 625 and at 7930 kg/m3.
  it.each([
    [38.1, 1.24, 143.6, 24414, 1282, 1.21, 1.14],
    [38.1, 1.65, 188.9, 31443, 1651, 1.59, 1.5],
    [42.4, 2, 253.8, 51915, 2449, 2.14, 2.01],
    [44.45, 1.65, 221.9, 50877, 2289, 1.87, 1.76],
    [48.3, 2, 290.9, 78098, 3234, 2.46, 2.31],
    [48.26, 2.77, 395.9, 102777, 4259, 3.34, 3.14],
    [50.8, 1.65, 254.8, 77020, 3032, 2.15, 2.02],
    [60.3, 2, 366.3, 155814, 5168, 3.09, 2.91],
  ])('%d x %d', (outside, thickness, area, second, modulus, nickel, steel) => {
    const stock = { outsideDiameter: outside * mm, wall: thickness * mm };
    const got = knownValue(tubeSection({ ...stock, density: 8440 }));
    expectNear(got.area * 1e6, area, 5e-4);
    expectNear(got.secondMoment * 1e12, second, 5e-4);
    expectNear(got.sectionModulus * 1e9, modulus, 5e-4);
    expectNear(got.massPerLength, nickel, 5e-3);
    expectNear(knownValue(tubeSection({ ...stock, density: 7930 })).massPerLength, steel, 5e-3);
    expectNear(knownValue(tubeSectionModulus.evaluate(stock)), got.sectionModulus, 1e-12);
  });

  it('a wall past the axis contradicts the diameter, a missing number is outside validity', () => {
    expect(tubeSection({ outsideDiameter: 0.02, wall: 0.011, density: 8000 })).toMatchObject({
      known: false,
      why: { reason: 'inconsistent' },
    });
    expect(tubeSection({ outsideDiameter: Number.NaN, wall: 0.001, density: 8000 })).toMatchObject({
      known: false,
      why: { reason: 'outOfValidity', input: 'tube-section: outsideDiameter' },
    });
  });
});

describe('walls', () => {
  const base = {
    pressure: 0.3 * MPa,
    outsideDiameter: 48.3 * mm,
    allowableStress: 10 * MPa,
    jointQuality: 1,
    weldStrength: 1,
    coefficient: 0.7,
    allowance: 0.3 * mm,
    millTolerance: 0.1,
  };
  // Own arithmetic: the same tube with joint and weld factor 0.8.
  it('poor welds need a thicker wall', () => {
    const got = knownValue(pipeWall({ ...base, jointQuality: 0.8, weldStrength: 0.8 }));
    expectNear(got.pressure, 1.096 * mm, 1e-3);
    expectNear(got.least, 1.396 * mm, 1e-3);
    expectNear(got.ordered, 1.551 * mm, 1e-3);
  });

  it('past D/6 the equation is refused', () => {
    expect(pipeWall({ ...base, pressure: 10 * MPa })).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
    expect(pipeWall({ ...base, jointQuality: 1.2 })).toMatchObject({ known: false, why: { reason: 'outOfValidity' } });
  });

  // ASME B31.3, from memory.
  it('coefficient and weld factor', () => {
    expect(knownValue(wallCoefficient('austenitic', 566 + C))).toBe(0.4);
    expect(knownValue(wallCoefficient('austenitic', 593 + C))).toBeCloseTo(0.5, 12);
    expect(knownValue(wallCoefficient('austenitic', 700 + C))).toBe(0.7);
    expect(knownValue(wallCoefficient('nickel', 649 + C))).toBe(0.4);
    expect(knownValue(wallCoefficient('ferritic', 538 + C))).toBeCloseTo(0.7, 12);
    expect(knownValue(weldStrengthFactor(510 + C))).toBe(1);
    expectNear(knownValue(weldStrengthFactor(816 + C)), 0.5, 1e-12);
    expect(weldStrengthFactor(850 + C).known).toBe(false);
    for (const family of wallFamilies) {
      let before = 0;
      for (let celsius = 0; celsius <= 900; celsius += 3) {
        const now = knownValue(wallCoefficient(family, celsius + C));
        expect(now).toBeGreaterThanOrEqual(before);
        before = now;
      }
      expect(wallCoefficient(family, Number.NaN).known).toBe(false);
    }
  });

  it('the exact bore stress is never below the mean-diameter one, and close to it for a thin wall', () => {
    const random = seededRandom(3);
    for (let i = 0; i < 300; i++) {
      const outsideDiameter = 0.02 + 0.1 * random();
      const wall = outsideDiameter * (0.01 + 0.08 * random());
      const mean = knownValue(hoopStress.evaluate({ pressure: 1e6, outsideDiameter, wall }));
      const exact = knownValue(
        lameBoreStress.evaluate({
          pressure: 1e6,
          innerRadius: outsideDiameter / 2 - wall,
          outerRadius: outsideDiameter / 2,
        }),
      );
      expect(exact).toBeGreaterThanOrEqual(mean * (1 - 1e-12));
      expectNear(exact, mean, 0.02);
    }
  });
});

describe('vibration', () => {
  // Own arithmetic: 304 tube 48.3 x 2, 8 kg at 200 mm, 20 and 700 C.
  it.each([
    [195e9, 133.6],
    [140e9, 113.2],
  ])('304 at E %d', (modulus, expected) => {
    const got = firstModeFrequency.evaluate({
      modulus,
      outsideDiameter: 48.3 * mm,
      wall: 2 * mm,
      length: 0.2,
      density: 7930,
      tipMass: 8,
    });
    expectNear(knownValue(got), expected, 2e-3);
  });

  it('falls with length and mass, rises with diameter', () => {
    const random = seededRandom(8);
    for (let i = 0; i < 200; i++) {
      const tube = {
        modulus: 1e11 + 1e11 * random(),
        outsideDiameter: 0.03 + 0.05 * random(),
        wall: 0.001 + 0.002 * random(),
        length: 0.1 + random(),
        density: 8000,
        tipMass: 10 * random(),
      };
      const at = (change: Partial<typeof tube>) => knownValue(firstModeFrequency.evaluate({ ...tube, ...change }));
      const here = at({});
      expect(here).toBeGreaterThan(0);
      expect(at({ length: tube.length * 1.1 })).toBeLessThan(here);
      expect(at({ tipMass: tube.tipMass + 1 })).toBeLessThan(here);
      expect(at({ outsideDiameter: tube.outsideDiameter * 1.1 })).toBeGreaterThan(here);
    }
  });

  // Own arithmetic: a 119.37 Hz mode is crossed at 3580 rev/min by a four-cylinder; 2000 rev/min fires at 66.7 Hz.
  it('firing crosses it', () => {
    expectNear(knownValue(firingFrequency.evaluate({ speed: 3580 / 60, cylinders: 4 })), 119.4, 1e-3);
    expectNear(knownValue(firingFrequency.evaluate({ speed: 2000 / 60, cylinders: 4 })), 66.7, 1e-3);
  });

  it('amplifies near resonance, is refused at it, dies far above', () => {
    const at = (frequencyRatio: number) => vibrationAmplification.evaluate({ frequencyRatio });
    expectNear(knownValue(at(0)), 1, 1e-12);
    expect(knownValue(at(0.9))).toBeGreaterThan(knownValue(at(0.7)));
    expect(knownValue(at(3))).toBeLessThan(0.2);
    for (const ratio of [0.96, 1, 1.04])
      expect(at(ratio)).toMatchObject({ known: false, why: { reason: 'outOfValidity' } });
  });
});

describe('restraint', () => {
  it('biaxial is 1/(1-nu) of uniaxial, a gradient half of that', () => {
    const hot = { modulus: 2e11, expansion: 1.5e-5, temperature: 400, referenceTemperature: 300 };
    const one = knownValue(constrainedStress.evaluate(hot));
    expectNear(knownValue(constrainedStressBiaxial.evaluate({ ...hot, poisson: 0.3 })), one / 0.7, 1e-12);
    const gradient = wallGradientStress.evaluate({
      modulus: 2e11,
      expansion: 1.5e-5,
      hotTemperature: 400,
      coldTemperature: 300,
      poisson: 0.3,
    });
    expectNear(knownValue(gradient), one / 1.4, 1e-12);
  });

  // Own arithmetic: 625 (414 MPa) yields after 156 K of full restraint; tube 42.4 mm, 150 mm, 1 mm.
  it('page figures', () => {
    const perKelvin = constrainedStress.evaluate({
      modulus: 207.5e9,
      expansion: 12.8e-6,
      temperature: 301,
      referenceTemperature: 300,
    });
    expectNear(414e6 / knownValue(perKelvin), 156, 5e-3);
    const bend = guidedBendStress.evaluate({ modulus: 165e9, outsideDiameter: 42.4 * mm, sway: 1 * mm, length: 0.15 });
    expectNear(knownValue(bend), 933 * MPa, 1e-3);
  });

  // Bhandari, machine design textbook, example 4.22: printed 0.486 mm, 347.76 MPa, 104 328 N.
  const bar: GapBar = {
    length: 0.2,
    gap: 0.15 * mm,
    area: 300e-6,
    modulus: 207e9,
    expansion: 10.8e-6,
    temperature: 250 + C,
    referenceTemperature: 25 + C,
  };
  it('a bar that closes its gap', () => {
    const got = knownValue(gapBar(bar));
    expectNear(got.growth, 0.486 * mm, 1e-6);
    expectNear(got.stress, 347.76 * MPa, 1e-6);
    expectNear(got.force, 104_328, 1e-6);
    expect(knownValue(gapBar({ ...bar, gap: 0.49 * mm }))).toMatchObject({ stress: 0, force: 0 });
    expect(gapBar({ ...bar, area: 0 })).toMatchObject({ known: false, why: { reason: 'outOfValidity' } });
  });

  it('a slip joint with the same metal and heat on both sides loses nothing; what is lost is missing from the clearance', () => {
    const joint = {
      diameter: 48.3 * mm,
      maleExpansion: 1.5e-5,
      maleTemperature: 900,
      femaleExpansion: 1.5e-5,
      femaleTemperature: 900,
      referenceTemperature: 293.15,
    };
    expect(knownValue(slipJointLoss.evaluate(joint))).toBe(0);
    const loss = knownValue(slipJointLoss.evaluate({ ...joint, femaleTemperature: 700 }));
    expect(loss).toBeGreaterThan(0);
    expectNear(knownValue(slipJointHotClearance.evaluate({ coldClearance: 0.3 * mm, loss })), 0.3 * mm - loss, 1e-12);
  });
});
