import { defineFormula } from '../formula.ts';

/** Height of the point of a teardrop bore above its centre, m. */
export const teardropApex = defineFormula({
  id: 'teardrop-apex',
  title: 'Teardrop apex height',
  inputs: {
    diameter: { quantity: 'length', range: [1e-4, 0.3], help: 'D, bore' },
    limitAngle: { quantity: 'angle', range: [0.1, 1.4], help: 'alpha, least self-supporting angle from the plate' },
  },
  output: { quantity: 'length', help: 'h = (D/2) / cos(alpha)' },
  source: { document: 'own: geometry', trust: 'own' },
  examples: [
    {
      inputs: { diameter: 10e-3, limitAngle: Math.PI / 4 },
      expected: 7.07107e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-07a', trust: 'own' },
    },
    {
      inputs: { diameter: 42e-3, limitAngle: Math.PI / 4 },
      expected: 29.6985e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-07b', trust: 'own' },
    },
  ],
  compute({ diameter, limitAngle }) {
    return diameter / 2 / Math.cos(limitAngle);
  },
});
