import { defineFormula } from '../formula.ts';

/** Bending stress of a leg pushed sideways with both ends held parallel, Pa, if it stayed elastic. */
export const guidedBendStress = defineFormula({
  id: 'guided-bend-stress',
  title: 'Bending stress of a leg pushed sideways',
  inputs: {
    modulus: { quantity: 'stress', range: [1e9, 3e11], help: 'E, modulus of the metal' },
    outsideDiameter: { quantity: 'length', range: [5e-3, 0.5], help: 'D, outside diameter' },
    sway: { quantity: 'length', range: [0, 0.05], help: 'delta, sideways movement between the ends' },
    length: { quantity: 'length', range: [0.01, 3], help: 'L, length of the leg' },
  },
  output: { quantity: 'stress', help: 'sigma = 3 E D delta / L^2' },
  source: { document: 'beam theory, any strength-of-materials text', clause: 'guided cantilever', trust: 'memory' },
  examples: [
    {
      inputs: { modulus: 165e9, outsideDiameter: 42.4e-3, sway: 1e-3, length: 0.15 },
      expected: 932.8e6,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: '42.4 mm tube, 150 mm leg, 1 mm', trust: 'own' },
    },
  ],
  compute({ modulus, outsideDiameter, sway, length }) {
    return (3 * modulus * outsideDiameter * sway) / length ** 2;
  },
});
