import { defineFormula } from '../formula.ts';

/** Mach number of the mean flow, dimensionless; the blow-down pulse peaks at 2 to 3 times it. */
export const meanMach = defineFormula({
  id: 'mean-mach',
  title: 'Mean Mach number',
  inputs: {
    velocity: { quantity: 'velocity', range: [0, 5000], help: 'u, mean gas velocity' },
    soundSpeed: { quantity: 'velocity', range: [100, 3000], help: 'a, speed of sound of the gas' },
  },
  output: { quantity: 'ratio', help: 'M = u / a' },
  source: { document: 'definition of the Mach number', trust: 'memory' },
  examples: [
    {
      inputs: { velocity: 218.3, soundSpeed: 693.67 },
      expected: 0.3147,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'example E-05: collector bore 50 mm', trust: 'own' },
    },
  ],
  compute({ velocity, soundSpeed }) {
    return velocity / soundSpeed;
  },
});
