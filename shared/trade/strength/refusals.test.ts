import { describe, expect, it } from 'vitest';
import { knownValue } from '../../../tests/reference/nearness.ts';
import { expectRefusal } from '../../../tests/support/validityTable.ts';
import type { Known } from '../../units/known.ts';
import { ruptureKeys, rupturePoints } from '../data/rupture-points.ts';
import { alloyProperty, materialPropertySource } from './alloy-property.ts';
import { birnieWall } from './birnie-wall.ts';
import { firstModeFrequency } from './first-mode-frequency.ts';
import { hoopStress } from './hoop-stress.ts';
import { lameAxialStress } from './lame-axial-stress.ts';
import { lameBoreStress } from './lame-bore-stress.ts';
import { pipeWall, type WallFamily, wallCoefficient, weldStrengthFactor } from './pipe-wall.ts';
import { lifeAtStress, ruptureStress } from './rupture.ts';
import { tubeMass } from './tube-mass.ts';
import { tubeSection } from './tube-section.ts';
import { tubeSectionModulus } from './tube-section-modulus.ts';
import { vibrationAmplification } from './vibration-amplification.ts';

const C = 273.15;

/** Refused as outside validity, exactly so. */
function expectOutside(
  got: Known<unknown>,
  input: string,
  [value, low, high, unit]: readonly [number, number, number, string],
): void {
  expect(got).toEqual({ known: false, why: { reason: 'outOfValidity', input, value, range: [low, high], unit } });
}

describe('walls past the axis', () => {
  it('a rod is the thickest tube there is', () => {
    const section = knownValue(tubeSection({ outsideDiameter: 0.04, wall: 0.02, density: 8000 }));
    expect(section.area).toBeCloseTo(Math.PI * 0.02 ** 2, 12);
    expectRefusal(
      tubeSection({ outsideDiameter: 0.04, wall: 0.03, density: 8000 }),
      'tube-section: expected a wall of at most half the diameter 0.04, got 0.03',
    );
    const rod = { outsideDiameter: 0.04, wall: 0.02 };
    // 1 m of rod, 8000 kg/m3.
    expect(knownValue(tubeMass.evaluate({ ...rod, length: 1, density: 8000 }))).toBeCloseTo(10.053096, 5);
    // pi d^3 / 32.
    expect(knownValue(tubeSectionModulus.evaluate(rod))).toBeCloseTo((Math.PI * 0.04 ** 3) / 32, 12);
    const thick = { outsideDiameter: 0.04, wall: 0.021 };
    const limit = [0.021, 0, 0.02, 'length'] as const;
    expectOutside(tubeMass.evaluate({ ...thick, length: 1, density: 8000 }), 'tube-mass: wall', limit);
    expectOutside(tubeSectionModulus.evaluate(thick), 'tube-section-modulus: wall', limit);
  });

  it('radii the wrong way round, or no wall at all', () => {
    for (const outerRadius of [0.02, 0.01]) {
      const tube = { pressure: 1e5, innerRadius: 0.02, outerRadius };
      for (const formula of [lameBoreStress, lameAxialStress])
        expectRefusal(
          formula.evaluate(tube),
          `${formula.id}: expected an outer radius above the inner one (0.02), got ${outerRadius}`,
        );
    }
  });

  it('the thin-wall form ends at a tenth of the diameter', () => {
    expect(hoopStress.evaluate({ pressure: 1e5, outsideDiameter: 0.04, wall: 0.004 }).known).toBe(true);
    const wall = 0.005;
    expectOutside(
      hoopStress.evaluate({ pressure: 1e5, outsideDiameter: 0.04, wall }),
      'hoop-stress: wall / outsideDiameter',
      [0.125, 0, 0.1, 'ratio'],
    );
  });

  it('pressure no wall holds', () => {
    // sigma = (1 + nu) p leaves nothing: 125 MPa at nu 0.25 holds 100 MPa in a wall without end.
    const tube = { bore: 0.1, allowableStress: 100e6, poisson: 0.25 };
    expect(birnieWall.evaluate({ ...tube, pressure: 79e6 }).known).toBe(true);
    for (const pressure of [80e6, 90e6])
      expectOutside(birnieWall.evaluate({ ...tube, pressure }), 'birnie-wall: pressure', [
        pressure,
        0,
        80e6,
        'pressure',
      ]);
  });
});

describe('pipe wall', () => {
  const pipe = {
    pressure: 1e6,
    outsideDiameter: 0.06,
    allowableStress: 5e6,
    jointQuality: 1,
    weldStrength: 1,
    coefficient: 0.4,
    allowance: 0,
    millTolerance: 0,
  };
  it('past a sixth of the diameter the formula ends', () => {
    // 1 MPa x 60 mm / (2 (S + 0.4 MPa)) is a sixth at S = 2.6 MPa.
    expect(pipeWall({ ...pipe, allowableStress: 2.7e6 }).known).toBe(true);
    expect(JSON.stringify(pipeWall({ ...pipe, allowableStress: 2.1e6 }))).toMatch(
      /pipe-wall: expected a wall below D\/6 = 0\.01 m, got 0\.012 m/,
    );
  });

  // ASME B31.3 table 304.1.1, from memory: Y is 0.4 up to the first step, 0.5 at the second, 0.7 from the third, C.
  it.each<[WallFamily, number, number]>([
    ['austenitic', 20, 0.4],
    ['austenitic', 566, 0.4],
    ['austenitic', 579.5, 0.45],
    ['austenitic', 593, 0.5],
    ['austenitic', 607, 0.6],
    ['austenitic', 621, 0.7],
    ['austenitic', 800, 0.7],
    ['ferritic', 482, 0.4],
    ['ferritic', 510, 0.5],
    ['ferritic', 524, 0.6],
    ['ferritic', 538, 0.7],
    ['nickel', 649, 0.4],
    ['nickel', 677, 0.5],
    ['nickel', 690.5, 0.6],
    ['nickel', 704, 0.7],
  ])('%s at %d C: Y %d', (family, celsius, expected) => {
    expect(knownValue(wallCoefficient(family, celsius + C))).toBeCloseTo(expected, 9);
  });

  it('W is 1 up to 510 C and falls to a half at 816 C', () => {
    const at = (celsius: number) => knownValue(weldStrengthFactor(celsius + C));
    expect([20, 510, 663, 816].map(at).map((w) => Math.round(w * 1e9) / 1e9)).toEqual([1, 1, 0.75, 0.5]);
  });
});

describe('rupture', () => {
  it.each(ruptureKeys)('%s: stress and life are each other turned round, and end where the points end', (of) => {
    const { points } = rupturePoints[of];
    const [first, last] = [points[0], points.at(-1)];
    if (!first || !last) throw new Error('no points');
    const temperature = 1000;
    // Larson-Miller: P = T (20 + log10 hours).
    const life = (parameter: number) => 3600 * 10 ** (parameter / temperature - 20);
    expect(knownValue(lifeAtStress(of, first[1], temperature))).toBeCloseTo(life(first[0]), -6);
    for (const stress of [first[1] * 1.01, last[1] * 0.99, 0, -1, Number.NaN]) {
      const got = lifeAtStress(of, stress, temperature);
      expect(got).toMatchObject({
        known: false,
        why: { reason: 'outOfValidity', input: `life of ${of}: stress`, value: stress, unit: 'stress' },
      });
      if (got.known || got.why.reason !== 'outOfValidity') continue;
      expect(got.why.range[0] / last[1]).toBeCloseTo(1, 9);
      expect(got.why.range[1] / first[1]).toBeCloseTo(1, 9);
    }
  });

  it.each(ruptureKeys)('life of %s is told from 200 to 1200 C', (of) => {
    const { points } = rupturePoints[of];
    const stress = points[1]?.[1] ?? Number.NaN;
    for (const temperature of [473.15, 1473.15])
      expect(JSON.stringify(lifeAtStress(of, stress, temperature))).not.toContain(': temperature');
    for (const temperature of [473.1, 1473.2, Number.NaN])
      expectOutside(lifeAtStress(of, stress, temperature), `life of ${of}: temperature`, [
        temperature,
        473.15,
        1473.15,
        'temperature',
      ]);
  });

  it('a life or temperature the parameter does not hold for', () => {
    for (const metal of ruptureKeys)
      expect(ruptureStress(metal, 100, 3.6e6)).toMatchObject({
        known: false,
        why: { reason: 'outOfValidity', input: 'larson-miller-parameter: temperature' },
      });
    expect(ruptureStress('625', 480, 3600)).toMatchObject({
      known: false,
      why: { reason: 'outOfValidity', input: 'rupture stress of 625: Larson-Miller parameter', unit: 'ratio' },
    });
  });
});

describe('metal tables', () => {
  it('a metal without a table is told which have one', () => {
    // Poisson ratios were found for two metals only.
    const detail = 'poisson: expected a metal with a table (304, 625), got 347, for which no figures were found';
    expectRefusal(alloyProperty('347', 'poisson', 300), detail);
    expectRefusal(materialPropertySource('347', 'poisson'), detail);
    expect(alloyProperty('A286', 'conductivity', 300)).toMatchObject({ why: { reason: 'inconsistent' } });
  });

  it('above its last row a table says nothing', () => {
    const got = alloyProperty('625', 'expansion', 1500 + C);
    expect(got).toMatchObject({
      known: false,
      why: { reason: 'outOfValidity', input: 'expansion of alloy 625: temperature', unit: 'temperature' },
    });
    if (got.known || got.why.reason !== 'outOfValidity') return;
    expect(got.why.range[0]).toBe(C);
    const [, last] = got.why.range;
    expect(alloyProperty('625', 'expansion', last).known).toBe(true);
    expect(alloyProperty('625', 'expansion', last + 0.01).known).toBe(false);
    expect(materialPropertySource('625', 'expansion').known).toBe(true);
  });
});

describe('vibration', () => {
  it('within a twentieth of resonance there is no figure: the range named is the side it is nearer to', () => {
    const at = (frequencyRatio: number) => vibrationAmplification.evaluate({ frequencyRatio });
    const input = 'vibration-amplification: frequencyRatio';
    expectOutside(at(0.96), input, [0.96, 0, 0.95, 'ratio']);
    expectOutside(at(1), input, [1, 1.05, 20, 'ratio']);
    expectOutside(at(1.04), input, [1.04, 1.05, 20, 'ratio']);
    // 1 / |1 - r^2| at 0.5 and 2.
    expect(knownValue(at(0.5))).toBeCloseTo(4 / 3, 12);
    expect(knownValue(at(2))).toBeCloseTo(1 / 3, 12);
  });

  it('a first mode of a tube thicker than its axis', () => {
    const got = firstModeFrequency.evaluate({
      ...firstModeFrequency.examples[0].inputs,
      wall: 0.026,
      outsideDiameter: 0.05,
    });
    expectOutside(got, 'first-mode-frequency: wall', [0.026, 0, 0.025, 'length']);
  });
});
