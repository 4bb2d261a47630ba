import { inconsistent } from '../data/validity.ts';
import { defineFormula } from '../formula.ts';

/** Share of what a small element facing the middle of a hot cylinder of finite length sees of it, dimensionless. */
export const viewFactorShortCylinder = defineFormula({
  id: 'view-factor-short-cylinder',
  title: 'View factor, element to cylinder of finite length',
  inputs: {
    radius: { quantity: 'length', range: [1e-3, 1], help: 'r, radius of the cylinder' },
    distance: { quantity: 'length', range: [1e-3, 5], help: 'h, from its axis' },
    length: { quantity: 'length', range: [1e-3, 5], help: 'L, length of the cylinder, element at mid length' },
  },
  output: { quantity: 'share', help: 'twice the factor of a half cylinder seen from its end plane' },
  source: {
    document: 'catalogue of configuration factors (Howell), element to finite cylinder',
    trust: 'memory',
    note: 'checked against an own numerical integration',
  },
  examples: [
    {
      inputs: { radius: 25.4e-3, distance: 50.4e-3, length: 0.2 },
      expected: 0.499,
      tolerance: 2e-3,
      source: { document: 'own arithmetic', clause: '200 mm of 50.8 mm pipe, gap 25 mm', trust: 'own' },
    },
    {
      inputs: { radius: 25.4e-3, distance: 125.4e-3, length: 0.2 },
      expected: 0.162,
      tolerance: 6e-3,
      source: { document: 'own arithmetic', clause: 'gap 100 mm', trust: 'own' },
    },
  ],
  compute({ radius, distance, length }) {
    if (!(distance > radius))
      return inconsistent(
        `view-factor-short-cylinder: expected distance from the axis above the radius ${radius} m, got ${distance} m`,
      );
    const h = distance / radius;
    const half = length / 2 / radius;
    const x = (1 + h) ** 2 + half ** 2;
    const y = (1 - h) ** 2 + half ** 2;
    const side = Math.atan(half / Math.sqrt(h ** 2 - 1)) / half;
    const ends = ((x - 2 * h) / Math.sqrt(x * y)) * Math.atan(Math.sqrt((x * (h - 1)) / (y * (h + 1))));
    return ((2 * half) / (Math.PI * h)) * (side + ends - Math.atan(Math.sqrt((h - 1) / (h + 1))));
  },
});
