import { describe, expect, it } from 'vitest';
import { knownValue } from '../../../tests/reference/nearness.ts';
import { expectRefusal } from '../../../tests/support/validityTable.ts';
import { fallingRoot } from './bracket.ts';
import { outsideLoss } from './outside-loss.ts';
import { neighbourTemperature, requiredGap } from './required-gap.ts';
import { targetTemperature } from './target-temperature.ts';
import { viewFactorCylinder } from './view-factor-cylinder.ts';
import { viewFactorRod } from './view-factor-rod.ts';
import { viewFactorShortCylinder } from './view-factor-short-cylinder.ts';
import { viewFactorSphere } from './view-factor-sphere.ts';
import { wallBalance } from './wall-balance.ts';

describe('view factors', () => {
  // Touching, half of what a facing element sees is the pipe; a sphere or a plate-like pipe fills it.
  it.each([
    [viewFactorCylinder, 'axis', 1],
    [viewFactorRod, 'axis', 0.5],
    [viewFactorSphere, 'centre', 1],
  ] as const)('%o: from the surface on, not inside', (formula, from, touching) => {
    expect(knownValue(formula.evaluate({ radius: 0.02, distance: 0.02 }))).toBeCloseTo(touching, 12);
    expectRefusal(
      formula.evaluate({ radius: 0.02, distance: 0.019 }),
      `${formula.id}: expected distance from the ${from} of at least the radius 0.02 m, got 0.019 m`,
    );
  });

  it('a short cylinder is not seen from its own surface', () => {
    for (const distance of [0.02, 0.019])
      expectRefusal(
        viewFactorShortCylinder.evaluate({ radius: 0.02, distance, length: 0.2 }),
        `view-factor-short-cylinder: expected distance from the axis above the radius 0.02 m, got ${distance} m`,
      );
  });
});

describe('a root between two ends', () => {
  it('is met whatever the shape', () => {
    for (const [excess, root, digits] of [
      [(x: number) => 1 - x, 1, 12],
      [(x: number) => 8 - x ** 3, 2, 12],
      [(x: number) => Math.exp(-x) - 0.5, Math.LN2, 12],
      [(x: number) => (x < 0.7 ? 1 : -1), 0.7, 12],
      // So flat that the numbers themselves are nothing over some width.
      [(x: number) => (1.5 - x) ** 5, 1.5, 3],
      [(x: number) => 1e-12 * (2.5 - x), 2.5, 12],
    ] as const)
      expect(fallingRoot(excess, 0, 3)).toBeCloseTo(root, digits);
  });

  it('may lie at an end, and is not made up where there is none', () => {
    expect(fallingRoot((x) => -x, 0, 5)).toBeCloseTo(0, 12);
    expect(fallingRoot((x) => 5 - x, 0, 5)).toBeCloseTo(5, 12);
    expect(fallingRoot((x) => 6 - x, 0, 5)).toBeNull();
    expect(fallingRoot((x) => -1 - x, 0, 5)).toBeNull();
    expect(fallingRoot((x) => x - 2, 0, 5)).toBeNull();
    expect(fallingRoot(() => Number.NaN, 0, 5)).toBeNull();
    expect(fallingRoot((x) => (x === 0 ? 1 : x === 5 ? -1 : Number.NaN), 0, 5)).toBeNull();
  });

  it('takes a dozen calls or two on a smooth curve', () => {
    let calls = 0;
    const root = fallingRoot(
      (x) => {
        calls += 1;
        return 1e10 - x ** 4;
      },
      0,
      1000,
    );
    expect(root).toBeCloseTo(10 ** 2.5, 9);
    // Halving alone would need fifty.
    expect(calls).toBeLessThan(20);
  });
});

describe('balances say what was expected and what came', () => {
  const wall = { bore: 0.04, outsideDiameter: 0.0432, conductivity: 25, emissivity: 0.8 };
  const gas = { temperature: 1200, coefficient: 120, pulsation: 2 };

  it('outside loss needs a surface hotter than the air', () => {
    for (const surface of [400, 399])
      expectRefusal(
        outsideLoss({ outsideDiameter: 0.04, emissivity: 0.8, surface }, { air: 400, walls: 300 }),
        `outside loss: expected a surface hotter than the air at 400 K, got ${surface} K`,
      );
  });

  it('wall balance', () => {
    const around = { air: 320, walls: 320 };
    for (const outsideDiameter of [0.04, 0.039])
      expectRefusal(
        wallBalance({ ...wall, outsideDiameter }, gas, around),
        `wall balance: expected an outside diameter above the bore 0.04 m, got ${outsideDiameter} m`,
      );
    for (const temperature of [500, 500.01])
      expectRefusal(
        wallBalance(wall, { ...gas, temperature }, { air: 500, walls: 450 }),
        `wall balance: expected gas hotter than the surroundings at 500.01 K, got ${temperature} K`,
      );
    // Walls hotter than the air bound it just the same.
    expectRefusal(
      wallBalance(wall, { ...gas, temperature: 600 }, { air: 400, walls: 600 }),
      'wall balance: expected gas hotter than the surroundings at 600.01 K, got 600 K',
    );
    expect(wallBalance(wall, { ...gas, temperature: 620 }, { air: 400, walls: 600 }).known).toBe(true);
    expect(wallBalance(wall, gas, { air: 100, walls: 320 })).toMatchObject({
      known: false,
      why: { reason: 'outOfValidity', input: 'outside loss: air' },
    });
  });

  it('what comes in through the wall goes out', () => {
    const { outside, inside, heatPerLength } = knownValue(wallBalance(wall, gas, { air: 320, walls: 320 }));
    const inwards = gas.pulsation * gas.coefficient * Math.PI * wall.bore * (gas.temperature - inside);
    expect(inwards / heatPerLength).toBeCloseTo(1, 9);
    const through = (2 * Math.PI * wall.conductivity * (inside - outside)) / Math.log(0.0432 / 0.04);
    expect(through / heatPerLength).toBeCloseTo(1, 9);
  });

  const hot = { pairing: 'surface-pipe', radius: 0.022, emissivity: 0.8, temperature: 900, shieldRatio: 1 } as const;
  const hose = { emissivity: 0.9, faces: 1, coefficient: 15 } as const;
  it('required gap', () => {
    const allowed = { limit: 420, margin: 20 };
    for (const temperature of [320, 319])
      expectRefusal(
        requiredGap({ ...hot, temperature }, hose, 320, allowed),
        `required gap: expected a body hotter than the air at 320 K, got ${temperature} K`,
      );
    // A body barely warm needs no more than the least gap that is looked at.
    const near = knownValue(requiredGap({ ...hot, temperature: 330 }, hose, 320, allowed));
    expect(near.gap).toBe(1e-3);
    expect(near.temperature).toBe(knownValue(neighbourTemperature({ ...hot, temperature: 330 }, hose, 320, 1e-3)));
    const found = knownValue(requiredGap(hot, hose, 320, allowed));
    const at = (gap: number) => knownValue(neighbourTemperature(hot, hose, 320, gap));
    expect(found.temperature).toBeLessThanOrEqual(400);
    expect(found.temperature).toBeCloseTo(400, 6);
    expect(at(found.gap)).toBeCloseTo(400, 6);
    expect(at(found.gap * 0.999)).toBeGreaterThan(400);
  });

  it('a limit met exactly at the least gap needs no more', () => {
    const limit = knownValue(neighbourTemperature(hot, hose, 320, 1e-3));
    expect(knownValue(requiredGap(hot, hose, 320, { limit, margin: 0 })).gap).toBe(1e-3);
    const far = knownValue(neighbourTemperature(hot, hose, 320, 2));
    expect(knownValue(requiredGap(hot, hose, 320, { limit: far, margin: 0 })).gap).toBeCloseTo(2, 9);
    expect(requiredGap(hot, hose, 320, { limit: far - 0.001, margin: 0 }).known).toBe(false);
  });

  it('a neighbour in the dark takes the temperature of air and back', () => {
    expect(knownValue(targetTemperature(0, { emissivity: 0, faces: 1, coefficient: 15 }, 320))).toBeCloseTo(320, 9);
    // Two coefficients pull on it: 15 to 320 K and 45 to 360 K.
    const cooled = { emissivity: 0, faces: 1, coefficient: 15, back: { coefficient: 45, temperature: 360 } } as const;
    expect(knownValue(targetTemperature(0, cooled, 320))).toBeCloseTo(350, 9);
    // A hot back with nothing shone on it: far above the air.
    const backed = { emissivity: 0.5, faces: 1, coefficient: 1, back: { coefficient: 1e5, temperature: 700 } } as const;
    expect(knownValue(targetTemperature(0, backed, 300))).toBeCloseTo(700, 0);
    for (const faces of [1, 2] as const)
      expect(targetTemperature(1e6, { emissivity: 1, faces, coefficient: 1 }, 300).known).toBe(true);
  });
});
