import { inconsistent } from '../data/validity.ts';
import { defineFormula } from '../formula.ts';

/** Share of what a small facing element sees that is a long hot cylinder, dimensionless. */
export const viewFactorCylinder = defineFormula({
  id: 'view-factor-cylinder',
  title: 'View factor, element to long cylinder',
  inputs: {
    radius: { quantity: 'length', range: [1e-3, 1], help: 'r, radius of the hot body' },
    distance: { quantity: 'length', range: [1e-3, 5], help: 'h, from its axis' },
  },
  output: { quantity: 'share', help: 'F = r/h' },
  source: { document: 'own derivation, checked by Monte Carlo', trust: 'own' },
  examples: [
    {
      inputs: { radius: 25.4e-3, distance: 50.4e-3 },
      expected: 0.50397,
      tolerance: 1e-5,
      source: { document: 'own arithmetic', clause: 'example E-27: pipe 50.8 mm, gap 25 mm', trust: 'own' },
    },
  ],
  compute({ radius, distance }) {
    if (!(distance >= radius))
      return inconsistent(
        `view-factor-cylinder: expected distance from the axis of at least the radius ${radius} m, got ${distance} m`,
      );
    return radius / distance;
  },
});
