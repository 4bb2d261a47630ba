import { inconsistent } from '../data/validity.ts';
import { defineFormula } from '../formula.ts';

/** Share of what a thin rod or cable, parallel to a long hot cylinder, sees of it as the mean all round, dimensionless. */
export const viewFactorRod = defineFormula({
  id: 'view-factor-rod',
  title: 'View factor, cable to long cylinder',
  inputs: {
    radius: { quantity: 'length', range: [1e-3, 1], help: 'r, radius of the hot body' },
    distance: { quantity: 'length', range: [1e-3, 5], help: 'h, from its axis' },
  },
  output: { quantity: 'share', help: 'F = asin(r/h)/pi' },
  source: { document: 'own derivation, checked by Monte Carlo', clause: 'two-dimensional angle, exact', trust: 'own' },
  examples: [
    {
      inputs: { radius: 25.4e-3, distance: 50.8e-3 },
      expected: 1 / 6,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: 'half angle 30 degrees', trust: 'own' },
    },
  ],
  compute({ radius, distance }) {
    if (!(distance >= radius))
      return inconsistent(
        `view-factor-rod: expected distance from the axis of at least the radius ${radius} m, got ${distance} m`,
      );
    return Math.asin(radius / distance) / Math.PI;
  },
});
