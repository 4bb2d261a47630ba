import { describe, expect, it } from 'vitest';
import { knownValue } from '../../../tests/reference/nearness.ts';
import { expectRefusal } from '../../../tests/support/validityTable.ts';
import { surfaceKeys } from '../data/roughness.ts';
import { relativeRoughness } from './bore-roughness.ts';
import { frictionFactor } from './friction-factor.ts';
import { isothermalMassFlow } from './isothermal-mass-flow.ts';
import { itoBendLoss } from './ito-bend-loss.ts';
import { junctionBranchLoss } from './junction-branch-loss.ts';
import { junctionRunLoss } from './junction-run-loss.ts';
import { runnerLoss } from './runner-loss.ts';

const degree = Math.PI / 180;

describe('friction between laminar and turbulent', () => {
  const at = (reynolds: number) => frictionFactor.evaluate({ reynolds, relativeRoughness: 0 });

  it('has no answer from 2300 up to 4000', () => {
    expect(knownValue(at(2299.9))).toBeCloseTo(64 / 2299.9, 12);
    for (const value of [2300, 3000, 3999.9])
      expect(at(value)).toEqual({
        known: false,
        why: {
          reason: 'outOfValidity',
          input: 'friction-factor: reynolds',
          value,
          range: [4000, 1e8],
          unit: 'ratio',
        },
      });
    // Smooth pipe at Re 4000, Colebrook solved by hand to six digits.
    expect(knownValue(at(4000))).toBeCloseTo(0.039907, 5);
  });
});

describe('Ito', () => {
  it('holds for Re (D/r)^2 above 360', () => {
    const at = (radiusRatio: number) => itoBendLoss.evaluate({ reynolds: 36e3, radiusRatio, angle: Math.PI / 2 });
    expect(at(9.99).known).toBe(true);
    for (const radiusRatio of [10, 20])
      expect(at(radiusRatio)).toEqual({
        known: false,
        why: {
          reason: 'outOfValidity',
          input: 'ito-bend-loss: Re (D/r)^2',
          value: 36e3 / radiusRatio ** 2,
          range: [360, Number.POSITIVE_INFINITY],
          unit: 'ratio',
        },
      });
  });

  // 0.00431 x 90 x alpha x Re^-0.17 x 12^0.84 with alpha 1 for wide bends: Re 1e6 gives 10^-1.02.
  it('a wide right-angled bend carries no factor', () => {
    const loss = knownValue(itoBendLoss.evaluate({ reynolds: 1e6, radiusRatio: 12, angle: Math.PI / 2 }));
    expect(loss).toBeCloseTo(0.00431 * 90 * 10 ** -1.02 * 12 ** 0.84, 12);
    const tight = knownValue(itoBendLoss.evaluate({ reynolds: 1e6, radiusRatio: 2, angle: Math.PI / 2 }));
    expect(tight).toBeCloseTo(0.00431 * 90 * (0.95 + 4.42 * 2 ** -1.96) * 10 ** -1.02 * 2 ** 0.84, 12);
  });
});

describe('junctions', () => {
  it('along the run there is no figure between 60 and 90 degrees', () => {
    const at = (degrees: number) =>
      junctionRunLoss.evaluate({ flowRatio: 0.5, areaRatio: 0.5, angle: degrees * degree });
    expect(at(60).known).toBe(true);
    // 1.55 q - q^2 at 90 degrees.
    expect(knownValue(at(90))).toBeCloseTo(0.525, 12);
    for (const degrees of [60.01, 75, 89.9])
      expect(at(degrees)).toEqual({
        known: false,
        why: {
          reason: 'outOfValidity',
          input: 'junction-run-loss: angle',
          value: degrees * degree,
          range: [Math.PI / 6, Math.PI / 3],
          unit: 'angle',
        },
      });
  });

  // Crane: C is 1 up to an area ratio of 0.35, above it 0.9 (1 - q) up to q 0.4 and 0.55 from there. At 90 degrees F is 0.
  it.each([
    [0.35, 0.3, 1],
    [0.36, 0.3, 0.63],
    [0.36, 0.4, 0.54],
    [0.36, 0.41, 0.55],
    [0.35, 0.41, 1],
  ])('area ratio %d, flow ratio %d: weight %d', (areaRatio, flowRatio, weight) => {
    const bracket = 1 + (flowRatio / areaRatio) ** 2 - 2 * (1 - flowRatio) ** 2;
    const loss = knownValue(junctionBranchLoss.evaluate({ flowRatio, areaRatio, angle: Math.PI / 2 }));
    expect(loss).toBeCloseTo(weight * bracket, 12);
  });
});

describe('long tube', () => {
  const tube = {
    density: 1.2,
    frictionFactor: 0.02,
    inletPressure: 2e5,
    outletPressure: 1.9e5,
    length: 10,
    bore: 0.05,
  };

  it('no difference of pressure, no flow; uphill and past choking are refused', () => {
    expect(isothermalMassFlow.evaluate({ ...tube, outletPressure: 2e5 })).toEqual({ known: true, value: 0 });
    expectRefusal(
      isothermalMassFlow.evaluate({ ...tube, outletPressure: 201e3 }),
      'isothermal-mass-flow: expected outletPressure up to inletPressure 200000 Pa, got 201000 Pa',
    );
    expectRefusal(
      isothermalMassFlow.evaluate({ ...tube, length: 1, outletPressure: 1e4 }),
      'isothermal-mass-flow: expected an outlet pressure above the choking one, got 10000 Pa',
    );
  });
});

describe('rough bores', () => {
  // Colebrook and the explicit formulas end at 0.05: a coarser row of the table would reach them unseen.
  it.each(surfaceKeys)('%s stays within a twentieth of the smallest bore', (surface) => {
    const { low, high } = knownValue(relativeRoughness(surface, 5e-3));
    expect(low).toBeGreaterThan(0);
    expect(high).toBeGreaterThanOrEqual(low);
    expect(high).toBeLessThanOrEqual(0.05);
  });

  it('is the band of the table over the bore', () => {
    // Seamless steel 20 to 100 um (Idelchik) in 40 mm.
    const { low, high } = knownValue(relativeRoughness('seamless-steel', 0.04));
    expect(low).toBeCloseTo(0.0005, 12);
    expect(high).toBeCloseTo(0.0025, 12);
  });
});

describe('a runner', () => {
  const flow = { density: 0.4, velocity: 100, bore: 0.04, viscosity: 4e-5, roughness: 4e-5 };
  const bend = { angle: Math.PI / 2, radius: 0.06 };

  it('adds its parts, and nothing is nothing', () => {
    const none = knownValue(runnerLoss(flow, [], []));
    expect(none).toEqual({ total: 0, straight: 0, bends: 0 });
    const one = knownValue(runnerLoss(flow, [{ length: 0.2 }], [bend]));
    const two = knownValue(runnerLoss(flow, [{ length: 0.2 }, { length: 0.1 }], [bend, bend]));
    expect(two.straight).toBeCloseTo(1.5 * one.straight, 9);
    expect(two.bends).toBeCloseTo(2 * one.bends, 9);
    expect(two.total).toBeCloseTo(two.straight + two.bends, 9);
  });

  // f rho u^2/2 L/D by hand: Re 40 000, epsilon/D 0.001; Colebrook f 0.02508 (solved by hand), q 2000 Pa, L/D 5.
  it('a straight leg', () => {
    const { straight } = knownValue(runnerLoss(flow, [{ length: 0.2 }], []));
    const friction = knownValue(frictionFactor.evaluate({ reynolds: 4e4, relativeRoughness: 1e-3 }));
    expect(straight).toBeCloseTo(friction * 5 * 2000, 9);
  });

  it('rougher bores lose more in bends, in the ratio of the friction factors', () => {
    const smooth = knownValue(runnerLoss({ ...flow, roughness: 0 }, [], [bend]));
    const rough = knownValue(runnerLoss(flow, [], [bend]));
    const factor = (relativeRoughness: number) =>
      knownValue(frictionFactor.evaluate({ reynolds: 4e4, relativeRoughness }));
    expect(rough.bends / smooth.bends).toBeCloseTo(factor(1e-3) / factor(0), 9);
  });

  it('any part outside its range makes the whole unknown', () => {
    for (const [got, input] of [
      [runnerLoss({ ...flow, velocity: -1 }, [], []), 'reynolds-number: velocity'],
      [runnerLoss({ ...flow, velocity: 7 }, [], []), 'friction-factor: reynolds'],
      [runnerLoss(flow, [{ length: -1 }], []), 'straight-loss: length'],
      [runnerLoss(flow, [{ length: 1 }, { length: 2000 }], []), 'straight-loss: length'],
      [runnerLoss(flow, [], [{ ...bend, radius: 0.01 }]), 'bend-loss: radiusRatio'],
      [runnerLoss(flow, [], [bend, { ...bend, angle: 4 }]), 'bend-loss: angle'],
      [runnerLoss({ ...flow, velocity: 20 }, [], [bend]), 'bend-reynolds-correction: reynolds'],
    ] as const)
      expect(got).toMatchObject({ known: false, why: { reason: 'outOfValidity', input } });
  });
});
