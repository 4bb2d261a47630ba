import { defineFormula } from '../formula.ts';

/** Surface stress from a straight temperature gradient through a held wall, Pa; half of what the full difference would give. */
export const wallGradientStress = defineFormula({
  id: 'wall-gradient-stress',
  title: 'Stress from a gradient through the wall',
  inputs: {
    modulus: { quantity: 'stress', range: [1e9, 3e11], help: 'E, modulus of the metal' },
    expansion: {
      quantity: 'expansion',
      range: [0, 4e-5],
      help: 'alpha, MEAN coefficient between the two temperatures',
    },
    hotTemperature: { quantity: 'temperature', range: [200, 1500], help: 'temperature of the hot face' },
    coldTemperature: { quantity: 'temperature', range: [200, 1500], help: 'temperature of the cold face' },
    poisson: { quantity: 'ratio', range: [0, 0.45], help: 'nu, Poisson ratio' },
  },
  output: { quantity: 'stress', help: 'sigma = E alpha (T_hot - T_cold) / (2 (1 - nu))' },
  source: { document: 'beam theory, any strength-of-materials text', trust: 'memory' },
  examples: [
    {
      inputs: { modulus: 160e9, expansion: 1.53e-5, hotTemperature: 1053.15, coldTemperature: 1023.15, poisson: 0.3 },
      expected: 52.457143e6,
      tolerance: 1e-6,
      source: { document: 'own arithmetic', clause: '625, 30 K through the wall', trust: 'own' },
    },
  ],
  compute({ modulus, expansion, hotTemperature, coldTemperature, poisson }) {
    return (modulus * expansion * (hotTemperature - coldTemperature)) / (2 * (1 - poisson));
  },
});
