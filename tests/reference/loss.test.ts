import { describe, expect, it } from 'vitest';
import { roughness, surfaceKeys } from '../../shared/trade/data/roughness.ts';
import { exhaustViscosity } from '../../shared/trade/gas/exhaust-viscosity.ts';
import { bendLoss } from '../../shared/trade/loss/bend-loss.ts';
import { bendReynoldsCorrection } from '../../shared/trade/loss/bend-reynolds-correction.ts';
import { frictionFactor } from '../../shared/trade/loss/friction-factor.ts';
import { reynoldsNumber } from '../../shared/trade/loss/reynolds-number.ts';
import { runnerLoss } from '../../shared/trade/loss/runner-loss.ts';
import { straightLoss } from '../../shared/trade/loss/straight-loss.ts';
import { expectNear, knownValue } from './nearness.ts';

const degrees = Math.PI / 180;

describe('friction factor', () => {
  // Own solution of Colebrook by an independent program; the second row is printed in an open library's documentation (0.018513866).
  it.each([
    [1e5, 0, 0.01799],
    [1e5, 1e-4, 0.018513866],
    [5e4, 1e-3, 0.024021],
    [1e5, 1e-3, 0.022175],
    [2e5, 2e-3, 0.024309],
    [1e6, 5e-4, 0.017207],
    [3e4, 4.9e-3, 0.033093],
  ])('Re %d, eps/D %d', (reynolds, relativeRoughness, expected) => {
    expectNear(knownValue(frictionFactor.evaluate({ reynolds, relativeRoughness })), expected, 3e-5);
  });

  it('satisfies the implicit equation over the whole range', () => {
    for (let exponent = Math.log10(4000); exponent <= 8; exponent += 0.1) {
      for (const relativeRoughness of [0, 1e-6, 1e-4, 1e-2, 0.05]) {
        const reynolds = Math.min(10 ** exponent, 1e8);
        const x = 1 / Math.sqrt(knownValue(frictionFactor.evaluate({ reynolds, relativeRoughness })));
        expectNear(-2 * Math.log10(relativeRoughness / 3.7 + (2.51 * x) / reynolds), x, 1e-9);
      }
    }
  });

  it('has no answer in the transition from laminar to turbulent', () => {
    expect(frictionFactor.evaluate({ reynolds: 2299, relativeRoughness: 0 }).known).toBe(true);
    for (const reynolds of [2300, 3000, 3999.9]) {
      expect(frictionFactor.evaluate({ reynolds, relativeRoughness: 0 })).toMatchObject({
        known: false,
        why: { reason: 'outOfValidity' },
      });
    }
    expect(frictionFactor.evaluate({ reynolds: 4000, relativeRoughness: 0 }).known).toBe(true);
  });

  // Crane TP-410 problem 7-1 (example E-11), restated in an open library: water 200 L/min, 50 mm smooth; book Re 100 600 and f 0.0179.
  it('E-11 water in plastic pipe', () => {
    expectNear(knownValue(frictionFactor.evaluate({ reynolds: 100600, relativeRoughness: 0 })), 0.0179, 0.02);
    expectNear(
      knownValue(frictionFactor.evaluate({ reynolds: 101023, relativeRoughness: 0.0015e-3 / 50e-3 })),
      0.018108,
      0.01,
    );
  });

  // White, Fluid Mechanics, example 6.6 (example E-17), from memory.
  it('E-17 asphalted iron pipe, 200 ft of 6 in at 6 ft/s', () => {
    const f = knownValue(frictionFactor.evaluate({ reynolds: 2.7e5, relativeRoughness: 0.0008 }));
    expectNear(f, 0.02, 0.02);
    const density = 998;
    const loss = knownValue(
      straightLoss.evaluate({ frictionFactor: f, length: 200 * 0.3048, bore: 0.1524, density, velocity: 6 * 0.3048 }),
    );
    expectNear(loss / (density * 9.80665) / 0.3048, 4.5, 0.02);
    expectNear(loss / 47.880259, 280, 0.02);
  });

  // White, Fluid Mechanics, example 6.7 (example E-18), from memory: oil, 500 m of 0.2 m pipe sloping down 10 degrees.
  it('E-18 oil pipe', () => {
    const velocity = 0.2 / ((Math.PI / 4) * 0.2 ** 2);
    expectNear(velocity, 6.4, 0.02);
    const reynolds = knownValue(reynoldsNumber.evaluate({ density: 900, velocity, bore: 0.2, viscosity: 900e-5 }));
    expectNear(reynolds, 1.27e5, 0.02);
    const f = knownValue(frictionFactor.evaluate({ reynolds, relativeRoughness: 0.26 / 200 }));
    expectNear(f, 0.0225, 0.02);
    const loss = knownValue(
      straightLoss.evaluate({ frictionFactor: f, length: 500, bore: 0.2, density: 900, velocity }),
    );
    expectNear(loss / (900 * 9.81), 117, 0.02);
    expectNear(loss - 900 * 9.81 * 500 * Math.sin(10 * degrees), 265e3, 0.02);
  });
});

describe('bends', () => {
  // Miller 1990 chart as digitised by an open library: a few cells of each row, own copy kept apart from the product's table.
  it.each([
    [0.75, 90, 0.387],
    [1, 45, 0.1],
    [1.25, 180, 0.218],
    [1.5, 90, 0.184],
    [2, 90, 0.16],
    [2.5, 30, 0.067],
    [3, 120, 0.188],
    [4, 15, 0.046],
    [5, 180, 0.358],
  ])('r/D %d at %d degrees', (radiusRatio, angle, expected) => {
    expectNear(knownValue(bendLoss.evaluate({ radiusRatio, angle: angle * degrees })), expected, 1e-9);
  });

  it('has no loss at no deflection, for every radius', () => {
    for (let radiusRatio = 0.75; radiusRatio <= 5; radiusRatio += 0.25)
      expect(knownValue(bendLoss.evaluate({ radiusRatio, angle: 0 }))).toBe(0);
  });

  // Same chart: Reynolds corrections printed for three radius ratios.
  it.each([
    [1, 1e4, 2.18],
    [1, 3e4, 1.69],
    [1, 2e5, 1.01],
    [1, 1e6, 1],
    [1.5, 1e5, 1.4],
    [1.5, 5e5, 1],
    [2, 3e4, 1.81],
    [3, 5e5, 1.13],
    [5, 1e6, 1.01],
    [0.75, 1e5, 1.24],
  ])('correction at r/D %d, Re %d', (radiusRatio, reynolds, expected) => {
    expectNear(knownValue(bendReynoldsCorrection.evaluate({ radiusRatio, reynolds })), expected, 1e-9);
  });

  it('correction never rises with Reynolds number', () => {
    for (const radiusRatio of [0.75, 1, 1.2, 1.5, 1.9, 2, 4]) {
      let before = Number.POSITIVE_INFINITY;
      for (let e = 4; e <= 6; e += 0.05) {
        const now = knownValue(bendReynoldsCorrection.evaluate({ radiusRatio, reynolds: Math.min(10 ** e, 1e6) }));
        expect(now).toBeLessThanOrEqual(before + 1e-12);
        before = now;
      }
    }
  });
});

describe('runner loss', () => {
  const viscosity = knownValue(exhaustViscosity.evaluate({ lambda: 0.8, temperature: 1223.15 }));
  const flow = { density: 0.80372, velocity: 81.568, bore: 40.9e-3, viscosity, roughness: 1.5e-6 };
  const bends = [90, 45, 30].map((angle) => ({ angle: angle * degrees, radius: 66.75e-3 }));
  const head = (0.80372 * 81.568 ** 2) / 2;

  // Own, example E-19, spline through the Miller chart: bore 40.9 mm, 600 mm straight, bends 90/45/30, radius 66.75 mm.
  it('E-19 primary', () => {
    const reynolds = knownValue(reynoldsNumber.evaluate(flow));
    expectNear(reynolds, 56444, 2e-3);
    expectNear(knownValue(frictionFactor.evaluate({ reynolds, relativeRoughness: 1.5 / 40.9e3 })), 0.020479, 1e-3);
    const loss = knownValue(runnerLoss(flow, [{ length: 0.6 }], bends));
    expectNear(loss.straight / head, 0.3004, 2e-3);
    // The worked example leaves out the roughness ratio of the bends (1.007 here).
    const rough = knownValue(frictionFactor.evaluate({ reynolds, relativeRoughness: 1.5 / 40.9e3 }));
    const smooth = knownValue(frictionFactor.evaluate({ reynolds, relativeRoughness: 0 }));
    expectNear((loss.bends / head) * (smooth / rough), 0.5133, 0.02);
    expectNear(loss.total, 2176, 0.02);
    expectNear(loss.total / 300e3, 0.0073, 0.02);
  });

  it('does not depend on how a straight is divided, or on the order of bends', () => {
    const whole = knownValue(runnerLoss(flow, [{ length: 0.6 }], bends)).total;
    const parts = knownValue(
      runnerLoss(flow, [{ length: 0.1 }, { length: 0.2 }, { length: 0.3 }], [...bends].reverse()),
    ).total;
    expectNear(parts, whole, 1e-12);
  });

  it('is zero without length or bends, and is its own parts added', () => {
    expect(knownValue(runnerLoss(flow, [], []))).toEqual({ total: 0, straight: 0, bends: 0 });
    const loss = knownValue(runnerLoss(flow, [{ length: 0.6 }], bends));
    expectNear(loss.straight + loss.bends, loss.total, 1e-12);
  });

  it('roughness raises both parts', () => {
    const smooth = knownValue(runnerLoss(flow, [{ length: 0.6 }], bends));
    const rough = knownValue(runnerLoss({ ...flow, roughness: 59e-6 }, [{ length: 0.6 }], bends));
    expect(rough.straight).toBeGreaterThan(1.1 * smooth.straight);
    expect(rough.bends).toBeGreaterThan(1.1 * smooth.bends);
  });

  it.each([
    ['a bend tighter than the chart', { ...flow }, [{ angle: 1, radius: 0.02 }], 'bend-loss: radiusRatio'],
    ['a bend past 180 degrees', { ...flow }, [{ angle: 3.2, radius: 0.06675 }], 'bend-loss: angle'],
    ['transitional flow', { ...flow, velocity: 4 }, bends, 'friction-factor: reynolds'],
    ['turbulent flow below the bend chart', { ...flow, velocity: 10 }, bends, 'bend-reynolds-correction: reynolds'],
  ])('%s makes the whole unknown and says why', (_name, bad, list, input) => {
    expect(runnerLoss(bad, [{ length: 0.6 }], list)).toMatchObject({
      known: false,
      why: { reason: 'outOfValidity', input },
    });
  });
});

describe('roughness bands', () => {
  // Moody class and Idelchik 4th ed. as printed, um; printed 625 is 5.863 x Ra (Adams, Grant and Watson 2012) for Ra 6 to 35 um.
  it.each([
    ['drawn-tube', 1.5, 1.5],
    ['seamless-non-ferrous', 1.5, 10],
    ['seamless-steel', 20, 100],
    ['welded-steel', 40, 100],
    ['printed-625', 35.178, 205.205],
  ] as const)('%s', (surface, low, high) => {
    expectNear(roughness[surface].low, low * 1e-6, 1e-9);
    expectNear(roughness[surface].high, high * 1e-6, 1e-9);
  });

  it('printed 625 is told to be uncertain', () => {
    expect(surfaceKeys.filter((surface) => roughness[surface].source.trust === 'uncertain')).toEqual(['printed-625']);
  });
});
