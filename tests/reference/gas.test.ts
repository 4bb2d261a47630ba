import { describe, expect, it } from 'vitest';
import { type Species, species } from '../../shared/trade/data/nasa9.ts';
import { airMassFlow } from '../../shared/trade/gas/air-mass-flow.ts';
import { exhaustComposition, type MoleFractions } from '../../shared/trade/gas/exhaust-composition.ts';
import { exhaustDensity } from '../../shared/trade/gas/exhaust-density.ts';
import { exhaustGamma } from '../../shared/trade/gas/exhaust-gamma.ts';
import { exhaustGasConstant } from '../../shared/trade/gas/exhaust-gas-constant.ts';
import { exhaustMassFlow } from '../../shared/trade/gas/exhaust-mass-flow.ts';
import { exhaustViscosity } from '../../shared/trade/gas/exhaust-viscosity.ts';
import { fuelMassFlow } from '../../shared/trade/gas/fuel-mass-flow.ts';
import {
  mixtureState,
  mixtureViscosity,
  speciesHeatCapacity,
  speciesViscosity,
} from '../../shared/trade/gas/gas-mixture.ts';
import { meanGasVelocity } from '../../shared/trade/gas/mean-gas-velocity.ts';
import { meanMach } from '../../shared/trade/gas/mean-mach.ts';
import { soundSpeed } from '../../shared/trade/gas/sound-speed.ts';
import { expectNear, knownValue } from './nearness.ts';

const C = 273.15;

describe('engine flow', () => {
  // Own arithmetic, example E-01: 2.0 L, 7000 rev/min, 250 kPa, 320 K; 42.00 lb/min.
  it('E-01 air flow', () => {
    const air = knownValue(
      airMassFlow.evaluate({
        displacement: 2e-3,
        speed: 7000 / 60,
        volumetricEfficiency: 1,
        manifoldPressure: 250e3,
        manifoldTemperature: 320,
      }),
    );
    expectNear(air, 0.317526, 1e-5);
    expectNear((air / 0.45359237) * 60, 42, 1e-4);
  });

  // Own arithmetic, example E-02.
  it('E-02 fuel and exhaust flow', () => {
    const fuelFlow = knownValue(fuelMassFlow.evaluate({ airFlow: 0.317526, lambda: 0.8, stoichiometricAirFuel: 14.7 }));
    expect(Math.abs(fuelFlow - 0.0270005)).toBeLessThan(1e-6);
    expect(Math.abs(knownValue(exhaustMassFlow.evaluate({ airFlow: 0.317526, fuelFlow })) - 0.344526)).toBeLessThan(
      1e-6,
    );
  });
});

describe('exhaust state', () => {
  // Own evaluation, example E-03: stated composition, 950 C, 300 kPa.
  it('E-03 from the stated composition', () => {
    const gas: MoleFractions = { CO2: 0.08371, CO: 0.06246, H2O: 0.13555, H2: 0.0289, O2: 0, N2: 0.68938 };
    const state = knownValue(mixtureState(gas, 950 + C));
    expectNear(state.molarMass, 27.2458e-3, 1e-4);
    expectNear(state.gasConstant, 305.165, 1e-4);
    expectNear(state.heatCapacity, 1360.69, 1e-4);
    expectNear(state.gamma, 1.28911, 1e-4);
  });

  it('E-03 from lambda alone', () => {
    const gasConstant = knownValue(exhaustGasConstant.evaluate({ lambda: 0.8 }));
    const gamma = knownValue(exhaustGamma.evaluate({ lambda: 0.8, temperature: 950 + C }));
    expectNear(knownValue(soundSpeed.evaluate({ gamma, gasConstant, temperature: 950 + C })), 693.67, 1e-4);
    expectNear(
      knownValue(exhaustDensity.evaluate({ lambda: 0.8, temperature: 950 + C, pressure: 300e3 })),
      0.80372,
      1e-4,
    );
  });

  // Own arithmetic, example E-05: whole exhaust flow in a collector bore.
  it.each([
    [50e-3, 218.3, 0.3147],
    [60.3e-3, 150.1, 0.2164],
  ])('E-05 collector bore %d m', (bore, u, mach) => {
    const velocity = knownValue(meanGasVelocity.evaluate({ massFlow: 0.344526, density: 0.80372, bore }));
    expectNear(velocity, u, 1e-3);
    expectNear(knownValue(meanMach.evaluate({ velocity, soundSpeed: 693.67 })), mach, 1e-3);
  });

  // Own evaluation with an independent program: iso-octane exhaust at 1173.15 K, water-gas constant 3.5, Wilke viscosity.
  it.each([
    {
      lambda: 0.8,
      x: [0.08371, 0.06246, 0.13555, 0.0289, 0, 0.68938],
      M: 27.2458,
      R: 305.165,
      cp: 1349.83,
      g: 1.29212,
      a: 680.14,
      mu: 4.6161,
    },
    {
      lambda: 0.85,
      x: [0.09389, 0.04624, 0.1382, 0.01945, 0, 0.70221],
      M: 27.6278,
      R: 300.945,
      cp: 1341.08,
      g: 1.28933,
      a: 674.69,
      mu: 4.6171,
    },
    {
      lambda: 0.9,
      x: [0.10417, 0.0304, 0.13974, 0.01165, 0, 0.71403],
      M: 27.9795,
      R: 297.162,
      cp: 1333.54,
      g: 1.28673,
      a: 669.76,
      mu: 4.6181,
    },
    {
      lambda: 1,
      x: [0.12468, 0, 0.14027, 0, 0, 0.73505],
      M: 28.6054,
      R: 290.66,
      cp: 1321.32,
      g: 1.28201,
      a: 661.17,
      mu: 4.6204,
    },
    {
      lambda: 1.1,
      x: [0.11408, 0, 0.12834, 0, 0.01782, 0.73976],
      M: 28.6261,
      R: 290.45,
      cp: 1309.14,
      g: 1.28512,
      a: 661.74,
      mu: 4.6349,
    },
    {
      lambda: 1.3,
      x: [0.09749, 0, 0.10967, 0, 0.0457, 0.74714],
      M: 28.6584,
      R: 290.123,
      cp: 1290.13,
      g: 1.29012,
      a: 662.65,
      mu: 4.6577,
    },
  ])('iso-octane exhaust at lambda $lambda', ({ lambda, x, M, R, cp, g, a, mu }) => {
    const temperature = 1173.15;
    const gas = knownValue(exhaustComposition(lambda));
    for (const [i, s] of species.entries()) expect(Math.abs(gas[s] - (x[i] ?? Number.NaN))).toBeLessThan(1e-5);
    const state = knownValue(mixtureState(gas, temperature));
    expectNear(state.molarMass, M * 1e-3, 1e-5);
    expectNear(state.gasConstant, R, 1e-5);
    expectNear(state.heatCapacity, cp, 1e-5);
    expectNear(state.gamma, g, 1e-5);
    expectNear(
      knownValue(soundSpeed.evaluate({ gamma: state.gamma, gasConstant: state.gasConstant, temperature })),
      a,
      1e-5,
    );
    // The printed rich viscosities leave hydrogen out of the mix: without it they are met to the last digit, with it ours is up to 0.06 % lower.
    const dry = 1 - gas.H2;
    const withoutHydrogen = {
      ...gas,
      CO2: gas.CO2 / dry,
      CO: gas.CO / dry,
      H2O: gas.H2O / dry,
      N2: gas.N2 / dry,
      H2: 0,
      O2: gas.O2 / dry,
    };
    expectNear(knownValue(mixtureViscosity(withoutHydrogen, temperature)), mu * 1e-5, 2e-5);
    expectNear(knownValue(exhaustViscosity.evaluate({ lambda, temperature })), mu * 1e-5, lambda < 1 ? 6e-4 : 2e-5);
  });

  it('rich composition keeps the atom balance and the water-gas constant', () => {
    for (let lambda = 0.7; lambda < 1; lambda += 0.01) {
      const g = knownValue(exhaustComposition(lambda));
      const fuel = (g.CO2 + g.CO) / 8;
      expectNear(2 * (g.H2O + g.H2), 18 * fuel, 1e-9);
      expectNear(2 * g.CO2 + g.CO + g.H2O, 2 * lambda * 12.5 * fuel, 1e-9);
      expectNear((g.H2O * g.CO) / (g.CO2 * g.H2), 3.5, 1e-6);
    }
  });

  it('lean and rich meet at lambda 1', () => {
    const rich = knownValue(exhaustComposition(1 - 1e-9));
    const lean = knownValue(exhaustComposition(1));
    for (const s of species) expect(Math.abs(rich[s] - lean[s])).toBeLessThan(1e-8);
  });

  it.each([0.69, 3.01, Number.NaN])('has no composition at lambda %d', (lambda) => {
    expect(exhaustComposition(lambda)).toMatchObject({
      known: false,
      why: { reason: 'outOfValidity', range: [0.7, 3] },
    });
  });

  it('refuses fractions that do not add up or are negative', () => {
    const base: MoleFractions = { CO2: 0, CO: 0, H2O: 0, H2: 0, O2: 0.21, N2: 0.79 };
    expect(mixtureState({ ...base, N2: 0.7 }, 1000)).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
    expect(mixtureViscosity({ ...base, O2: -0.01, N2: 1.01 }, 1000)).toMatchObject({
      known: false,
      why: { reason: 'inconsistent' },
    });
  });
});

describe('heat capacity of the species', () => {
  const temperatures = [300, 500, 800, 1000, 1173.15, 1300, 1500];
  // NASA TP-2002-211556 and GRI-Mech 3.0 evaluated by an independent program, J/(mol.K).
  const printed: Readonly<Record<Species, { nasa: number[]; gri: number[] }>> = {
    N2: {
      nasa: [29.125, 29.5818, 31.434, 32.6963, 33.6006, 34.1471, 34.8417],
      gri: [29.0755, 29.6359, 31.3942, 32.7619, 33.5913, 34.1128, 34.8053],
    },
    O2: {
      nasa: [29.3873, 31.0915, 33.7449, 34.8823, 35.6039, 36.0056, 36.5526],
      gri: [29.3881, 31.0835, 33.7497, 34.883, 35.556, 35.9841, 36.5753],
    },
    CO2: {
      nasa: [37.2199, 44.6242, 51.4321, 54.3084, 56.1135, 57.1299, 58.3735],
      gri: [37.2177, 44.6204, 51.4301, 54.3209, 56.0708, 57.1069, 58.3964],
    },
    H2O: {
      nasa: [33.5957, 35.2246, 38.7277, 41.2908, 43.5054, 45.0652, 47.3182],
      gri: [33.5965, 35.214, 38.733, 41.2947, 43.5446, 45.0772, 47.2913],
    },
    CO: {
      nasa: [29.1427, 29.7935, 31.9, 33.1786, 34.053, 34.5684, 35.2132],
      gri: [29.1431, 29.8108, 31.8938, 33.1629, 34.0314, 34.5526, 35.2113],
    },
    H2: {
      nasa: [28.8489, 29.2533, 29.6291, 30.2061, 30.8676, 31.4213, 32.3044],
      gri: [28.8508, 29.2977, 29.6158, 30.1631, 30.8859, 31.4272, 32.2792],
    },
  };

  // GRI-Mech 3.0 thermodynamic file of 7/30/99: a1..a5 of cp/R below and above 1000 K.
  const gri: Readonly<Record<Species, readonly [readonly number[], readonly number[]]>> = {
    N2: [
      [3.298677, 1.4082404e-3, -3.963222e-6, 5.641515e-9, -2.444854e-12],
      [2.92664, 1.4879768e-3, -5.68476e-7, 1.0097038e-10, -6.753351e-15],
    ],
    O2: [
      [3.78245636, -2.99673416e-3, 9.84730201e-6, -9.68129509e-9, 3.24372837e-12],
      [3.28253784, 1.48308754e-3, -7.57966669e-7, 2.09470555e-10, -2.16717794e-14],
    ],
    CO2: [
      [2.35677352, 8.98459677e-3, -7.12356269e-6, 2.45919022e-9, -1.43699548e-13],
      [3.85746029, 4.41437026e-3, -2.21481404e-6, 5.23490188e-10, -4.72084164e-14],
    ],
    H2O: [
      [4.19864056, -2.0364341e-3, 6.52040211e-6, -5.48797062e-9, 1.77197817e-12],
      [3.03399249, 2.17691804e-3, -1.64072518e-7, -9.7041987e-11, 1.68200992e-14],
    ],
    CO: [
      [3.57953347, -6.1035368e-4, 1.01681433e-6, 9.07005884e-10, -9.04424499e-13],
      [2.71518561, 2.06252743e-3, -9.98825771e-7, 2.30053008e-10, -2.03647716e-14],
    ],
    H2: [
      [2.34433112, 7.98052075e-3, -1.9478151e-5, 2.01572094e-8, -7.37611761e-12],
      [3.3372792, -4.94024731e-5, 4.99456778e-7, -1.79566394e-10, 2.00255376e-14],
    ],
  };

  const griHeatCapacity = (s: Species, t: number) =>
    8.314462618 * gri[s][t < 1000 ? 0 : 1].reduce((sum, a, i) => sum + a * t ** i, 0);

  it.each(species)('%s reproduces the printed values of both fits', (s) => {
    for (const [i, t] of temperatures.entries()) {
      expectNear(knownValue(speciesHeatCapacity(s, t)), printed[s].nasa[i] ?? Number.NaN, 1e-4);
      // At 1000 K the printed GRI value is of either branch; both agree within the 0.3 % asked for below.
      if (t !== 1000) expectNear(griHeatCapacity(s, t), printed[s].gri[i] ?? Number.NaN, 1e-4);
    }
  });

  it.each(species)('%s agrees with GRI-Mech within 0.3 % at the printed temperatures', (s) => {
    for (const t of temperatures) expectNear(knownValue(speciesHeatCapacity(s, t)), griHeatCapacity(s, t), 3e-3);
  });

  // Measured in 1 K steps: the two fits part most at 0.265 % (N2, 432 K), but 0.349 % for hydrogen (679 K; over 0.3 % also near 417 and 917 K).
  it.each(species)('%s agrees with GRI-Mech between them too, hydrogen to 0.35 %', (s) => {
    const largest = s === 'H2' ? 3.5e-3 : 3e-3;
    for (let t = 300; t <= 1600; t += 1)
      expectNear(knownValue(speciesHeatCapacity(s, t)), griHeatCapacity(s, t), largest);
  });

  it.each([0.8, 0.9, 1, 1.2])('exhaust at lambda %d agrees with GRI-Mech within 0.3 % from 300 to 1600 K', (lambda) => {
    const gas = knownValue(exhaustComposition(lambda));
    for (let t = 300; t <= 1600; t += 1) {
      const state = knownValue(mixtureState(gas, t));
      const molar = species.reduce((sum, s) => sum + gas[s] * griHeatCapacity(s, t), 0);
      expectNear(state.heatCapacity * state.molarMass, molar, 3e-3);
    }
  });

  it.each(species)('%s is continuous where the two fits meet', (s) => {
    expectNear(knownValue(speciesHeatCapacity(s, 1000 - 1e-7)), knownValue(speciesHeatCapacity(s, 1000)), 1e-4);
    const meet = s === 'H2O' ? 1073.2 : 1000;
    expectNear(knownValue(speciesViscosity(s, meet)), knownValue(speciesViscosity(s, meet + 1e-6)), 2e-3);
  });

  // JANAF tables at 1000 K, from memory; example E-07.
  it.each([
    ['N2', 32.697],
    ['CO2', 54.308],
    ['H2O', 41.268],
  ] as const)('E-07 %s at 1000 K against JANAF', (s, expected) => {
    expectNear(knownValue(speciesHeatCapacity(s, 1000)), expected, 1e-3);
  });

  it.each(species)('%s has no value outside its fits', (s) => {
    for (const t of [199, 6001, Number.NaN]) expect(speciesHeatCapacity(s, t).known).toBe(false);
    for (const t of [199, 5001, Number.NaN]) expect(speciesViscosity(s, t).known).toBe(false);
  });

  // Air (79/21 N2/O2) from the same viscosity fits by an independent program, Pa.s.
  it.each([
    [400, 2.296e-5],
    [600, 3.06e-5],
    [800, 3.722e-5],
    [1000, 4.318e-5],
  ])('air viscosity at %d K', (t, expected) => {
    expectNear(knownValue(mixtureViscosity({ CO2: 0, CO: 0, H2O: 0, H2: 0, O2: 0.21, N2: 0.79 }, t)), expected, 5e-4);
  });
});
