import { defineFormula } from '../formula.ts';

/** Stress of a bar that may not grow at all, Pa, if it stayed elastic; positive is compression on heating. */
export const constrainedStress = defineFormula({
  id: 'constrained-stress',
  title: 'Stress of a fully held bar',
  inputs: {
    modulus: { quantity: 'stress', range: [1e9, 3e11], help: 'E, modulus of the metal' },
    expansion: {
      quantity: 'expansion',
      range: [0, 4e-5],
      help: 'alpha, MEAN coefficient between the two temperatures',
    },
    temperature: { quantity: 'temperature', range: [200, 1500], help: 'T, temperature of the bar' },
    referenceTemperature: {
      quantity: 'temperature',
      range: [200, 1500],
      help: 'T0, temperature without stress',
      fallback: 293.15,
    },
  },
  output: { quantity: 'stress', help: 'sigma = E alpha (T - T0)' },
  source: {
    document: 'beam theory, any strength-of-materials text',
    trust: 'memory',
    note: 'header metal yields after 60 to 160 K of full restraint: read it as a warning, not as a stress',
  },
  examples: [
    {
      inputs: { modulus: 1e11, expansion: 1.2e-5, temperature: 353.15, referenceTemperature: 283.15 },
      expected: 84e6,
      tolerance: 1e-6,
      source: {
        document: 'university course note on thermal stress',
        clause: 'vector 5.5: fixed bar, 10 to 80 C',
        trust: 'excerpt',
      },
    },
    {
      inputs: { modulus: 178.6e9, expansion: 1.4e-5, temperature: 293.15 + 517, referenceTemperature: 293.15 },
      expected: 1292.7068e6,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector 5.6: 625, 517 K', trust: 'own' },
    },
  ],
  compute({ modulus, expansion, temperature, referenceTemperature }) {
    return modulus * expansion * (temperature - referenceTemperature);
  },
});
