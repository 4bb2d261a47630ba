import { defineFormula } from '../formula.ts';

/** Speed of a finite-amplitude compression wave into gas at rest, m/s; steepening is left out. */
export const finiteWaveSpeed = defineFormula({
  id: 'finite-wave-speed',
  title: 'Speed of a pressure pulse',
  inputs: {
    soundSpeed: { quantity: 'velocity', range: [100, 1500], help: 'a0, speed of sound ahead of the wave' },
    gamma: { quantity: 'ratio', range: [1.05, 1.67], help: 'gamma, ratio of specific heats' },
    pressureRatio: { quantity: 'ratio', range: [1, 3], help: 'P, absolute pressure in the wave over that ahead of it' },
  },
  output: { quantity: 'velocity', help: 'c = a0 (1 + (gamma+1)/(gamma-1) (P^((gamma-1)/(2 gamma)) - 1))' },
  source: {
    document: 'Blair, Design and Simulation of Four-Stroke Engines',
    clause: 'wave propagation (Earnshaw)',
    trust: 'memory',
  },
  examples: [
    {
      inputs: { soundSpeed: 661, gamma: 1.4, pressureRatio: 1.5 },
      expected: 897.5,
      tolerance: 1e-3,
      source: {
        document: 'own arithmetic',
        clause: 'a0 661 m/s, gamma 1.4, P 1.5: X 1.05963, 1 + 6 (X - 1)',
        trust: 'own',
      },
    },
  ],
  compute({ soundSpeed, gamma, pressureRatio }) {
    const amplitude = pressureRatio ** ((gamma - 1) / (2 * gamma));
    return soundSpeed * (1 + ((gamma + 1) / (gamma - 1)) * (amplitude - 1));
  },
});
