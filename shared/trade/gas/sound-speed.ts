import { defineFormula } from '../formula.ts';

/** Speed of sound of an ideal gas, m/s. */
export const soundSpeed = defineFormula({
  id: 'sound-speed',
  title: 'Speed of sound',
  inputs: {
    gamma: { quantity: 'ratio', range: [1.01, 1.67], help: 'gamma, ratio of specific heats' },
    gasConstant: { quantity: 'specificGasConstant', range: [50, 5000], help: 'R, specific gas constant' },
    temperature: { quantity: 'temperature', range: [200, 3000], help: 'T, gas temperature' },
  },
  output: { quantity: 'velocity', help: 'a = sqrt(gamma R T)' },
  source: { document: 'ideal-gas acoustics, any gas dynamics text', trust: 'memory' },
  examples: [
    {
      inputs: { gamma: 1.28911, gasConstant: 305.165, temperature: 1223.15 },
      expected: 693.67,
      tolerance: 1e-4,
      source: { document: 'own evaluation', clause: 'example E-03', trust: 'own' },
    },
  ],
  compute({ gamma, gasConstant, temperature }) {
    return Math.sqrt(gamma * gasConstant * temperature);
  },
});
