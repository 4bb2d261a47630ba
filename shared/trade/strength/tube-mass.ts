import { unknown } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';

/** Mass of a straight tube, kg. */
export const tubeMass = defineFormula({
  id: 'tube-mass',
  title: 'Mass of a tube',
  inputs: {
    outsideDiameter: { quantity: 'length', range: [5e-3, 0.5], help: 'D, outside diameter' },
    wall: { quantity: 'length', range: [2e-4, 0.05], help: 't, wall thickness' },
    length: { quantity: 'length', range: [0, 10], help: 'L, length of the tube' },
    density: { quantity: 'density', range: [500, 2e4], help: 'rho, material' },
  },
  output: { quantity: 'mass', help: 'm = rho pi (D - t) t L' },
  source: { document: 'geometry', trust: 'own' },
  examples: [
    {
      inputs: { outsideDiameter: 45.2e-3, wall: 1.6e-3, length: 0.25, density: 8440 },
      expected: 0.462422,
      tolerance: 1e-3,
      source: {
        document: 'own arithmetic',
        clause: 'vector WE-24a: 625 runner, ID 42, wall 1.6, 250 mm',
        trust: 'own',
      },
    },
  ],
  compute({ outsideDiameter, wall, length, density }) {
    if (2 * wall > outsideDiameter) {
      const range: readonly [number, number] = [0, outsideDiameter / 2];
      return unknown({ reason: 'outOfValidity', input: 'tube-mass: wall', value: wall, range, unit: 'length' });
    }
    return density * Math.PI * (outsideDiameter - wall) * wall * length;
  },
});
