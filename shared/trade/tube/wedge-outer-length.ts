import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { mitreBend } from './mitre-bend.ts';

/** Length of a full wedge of a mitred bend on its outside, m. */
export const wedgeOuterLength = defineFormula({
  id: 'wedge-outer-length',
  title: 'Wedge of a mitred bend, outside',
  inputs: {
    angle: { quantity: 'angle', range: [0.01, Math.PI], help: 'A, of the whole bend' },
    radius: { quantity: 'length', range: [1e-3, 5], help: 'R, centreline' },
    outsideDiameter: { quantity: 'length', range: [1e-3, 1], help: 'OD' },
    joints: { quantity: 'count', range: [1, 60], help: 'n, whole' },
  },
  output: { quantity: 'length', help: '2 (R + OD/2) tan(A / (2 n))' },
  source: { document: 'geometry', trust: 'own' },
  examples: [
    {
      inputs: { angle: 1.5707963267948966, radius: 0.0667, outsideDiameter: 0.0445, joints: 5 },
      expected: 0.028176591933735003,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '90 degrees in 5 joints, R 66.7 mm', trust: 'own' },
    },
  ],
  compute: ({ joints, ...bend }) =>
    derive({ cuts: mitreBend({ ...bend, convention: 'A', count: joints }) }, ({ cuts }) => cuts.outer),
});
