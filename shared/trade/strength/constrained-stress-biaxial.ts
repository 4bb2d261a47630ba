import { defineFormula } from '../formula.ts';

/** Stress of a plate that may grow in neither direction, Pa, if it stayed elastic; positive is compression on heating. */
export const constrainedStressBiaxial = defineFormula({
  id: 'constrained-stress-biaxial',
  title: 'Stress of a plate held both ways',
  inputs: {
    modulus: { quantity: 'stress', range: [1e9, 3e11], help: 'E, modulus of the metal' },
    expansion: {
      quantity: 'expansion',
      range: [0, 4e-5],
      help: 'alpha, MEAN coefficient between the two temperatures',
    },
    temperature: { quantity: 'temperature', range: [200, 1500], help: 'T, temperature of the plate' },
    referenceTemperature: { quantity: 'temperature', range: [200, 1500], help: 'T0, temperature without stress' },
    poisson: { quantity: 'ratio', range: [0, 0.45], help: 'nu, Poisson ratio' },
  },
  output: { quantity: 'stress', help: 'sigma = E alpha (T - T0) / (1 - nu)' },
  source: { document: 'beam theory, any strength-of-materials text', trust: 'memory' },
  examples: [
    {
      inputs: { modulus: 195e9, expansion: 1.66e-5, temperature: 393.15, referenceTemperature: 293.15, poisson: 0.28 },
      expected: 449.583333e6,
      tolerance: 1e-6,
      source: { document: 'own arithmetic', clause: '304, 100 K, nu 0.28', trust: 'own' },
    },
  ],
  compute({ modulus, expansion, temperature, referenceTemperature, poisson }) {
    return (modulus * expansion * (temperature - referenceTemperature)) / (1 - poisson);
  },
});
