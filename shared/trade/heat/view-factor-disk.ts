import { defineFormula } from '../formula.ts';

/** Share of what a small element on the axis of a hot disk sees of it, dimensionless. */
export const viewFactorDisk = defineFormula({
  id: 'view-factor-disk',
  title: 'View factor, element to coaxial disk',
  inputs: {
    radius: { quantity: 'length', range: [1e-3, 1], help: 'r, radius of the disk' },
    distance: { quantity: 'length', range: [0, 5], help: 'L, from the disk' },
  },
  output: { quantity: 'share', help: 'F = r^2 / (r^2 + L^2)' },
  source: { document: 'any heat transfer text', trust: 'memory' },
  examples: [
    {
      inputs: { radius: 0.05, distance: 0.05 },
      expected: 0.5,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: 'r = L', trust: 'own' },
    },
  ],
  compute({ radius, distance }) {
    return radius ** 2 / (radius ** 2 + distance ** 2);
  },
});
