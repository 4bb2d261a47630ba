import { type Known, known } from '../../units/known.ts';
import { type Limit, outsideLimits } from '../limits.ts';

/** A pressure test; SI. */
export interface PressureTest {
  readonly volume: number;
  /** Above the surroundings. */
  readonly gaugePressure: number;
  readonly surroundings: number;
  /** Ratio of specific heats of the test gas. */
  readonly gamma: number;
  /** Of the test liquid; water 2.2e9. */
  readonly bulkModulus: number;
}
/** Stored energies, J, and gas over liquid. */
export interface TestEnergy {
  /** Upper estimate of the gas. */
  readonly brode: number;
  readonly isentropic: number;
  readonly liquid: number;
  readonly ratio: number;
}

const limits: Readonly<Record<keyof PressureTest, Limit>> = {
  volume: ['volume', 1e-6, 10],
  gaugePressure: ['pressure', 1, 1e7],
  surroundings: ['pressure', 5e4, 1.2e5],
  gamma: ['ratio', 1.05, 1.7],
  bulkModulus: ['pressure', 1e8, 1e10],
};

/** Energy let go when a part under test opens: test with liquid first. Source: Brode, isentropic expansion, liquid compression (memory). */
export function testEnergy(test: PressureTest): Known<TestEnergy> {
  const refused = outsideLimits('test-energy', test, limits);
  if (refused) return refused;
  const { volume, gaugePressure, surroundings, gamma, bulkModulus } = test;
  const absolute = gaugePressure + surroundings;
  const isentropic = ((absolute * volume) / (gamma - 1)) * (1 - (surroundings / absolute) ** ((gamma - 1) / gamma));
  const liquid = (volume * gaugePressure ** 2) / (2 * bulkModulus);
  return known({ brode: (gaugePressure * volume) / (gamma - 1), isentropic, liquid, ratio: isentropic / liquid });
}

/** A pressure-decay test; SI, absolute pressure and temperature at the start. */
export interface DecayTest {
  readonly volume: number;
  readonly drop: number;
  readonly time: number;
  readonly pressure: number;
  readonly temperature: number;
}
/** Leak rate, Pa.m3/s (1 is 10 mbar.L/s), and the pressure change one kelvin makes, Pa/K: the drop must stand well above it. */
export interface DecayResult {
  readonly leakRate: number;
  readonly perKelvin: number;
}

const decayLimits: Readonly<Record<keyof DecayTest, Limit>> = {
  volume: ['volume', 1e-6, 10],
  drop: ['pressure', 0, 1e6],
  time: ['time', 0.1, 1e6],
  pressure: ['pressure', 5e4, 1e7],
  temperature: ['temperature', 230, 400],
};

/** Leak rate by pressure decay, Q = V dp/dt. Source: pressure change method, EN 13184 (memory). */
export function pressureDecay(test: DecayTest): Known<DecayResult> {
  const refused = outsideLimits('pressure-decay', test, decayLimits);
  if (refused) return refused;
  return known({ leakRate: (test.volume * test.drop) / test.time, perKelvin: test.pressure / test.temperature });
}
