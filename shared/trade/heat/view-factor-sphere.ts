import { inconsistent } from '../data/validity.ts';
import { defineFormula } from '../formula.ts';

/** Share of what a small facing element sees that is a hot sphere, dimensionless. */
export const viewFactorSphere = defineFormula({
  id: 'view-factor-sphere',
  title: 'View factor, element to sphere',
  inputs: {
    radius: { quantity: 'length', range: [1e-3, 1], help: 'r, radius of the hot body' },
    distance: { quantity: 'length', range: [1e-3, 5], help: 'h, from its centre' },
  },
  output: { quantity: 'share', help: 'F = (r/h)^2' },
  source: { document: 'own derivation, checked by Monte Carlo', trust: 'own' },
  examples: [
    {
      inputs: { radius: 0.1, distance: 0.15 },
      expected: 0.4444,
      tolerance: 2e-4,
      source: { document: 'own arithmetic', clause: 'r/h 0.6667, Monte Carlo 0.4449', trust: 'own' },
    },
  ],
  compute({ radius, distance }) {
    if (!(distance >= radius))
      return inconsistent(
        `view-factor-sphere: expected distance from the centre of at least the radius ${radius} m, got ${distance} m`,
      );
    return (radius / distance) ** 2;
  },
});
