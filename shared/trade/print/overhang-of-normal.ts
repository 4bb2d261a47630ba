import { defineFormula } from '../formula.ts';

/** Overhang angle from the plate, rad, of a down-facing facet. */
export const overhangOfNormal = defineFormula({
  id: 'overhang-of-normal',
  title: 'Overhang angle of a facet',
  inputs: {
    downwards: {
      quantity: 'ratio',
      range: [-1, 0],
      help: 'n_z, vertical part of the outward unit normal; below 0 faces down',
    },
  },
  output: { quantity: 'angle', help: 'alpha = acos |n_z|' },
  source: { document: 'geometry', clause: 'angle conventions', trust: 'own' },
  examples: [
    {
      inputs: { downwards: -Math.SQRT1_2 },
      expected: Math.PI / 4,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '45 degree facet', trust: 'own' },
    },
  ],
  compute({ downwards }) {
    return Math.acos(-downwards);
  },
});
