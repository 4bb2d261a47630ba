import { defineFormula } from '../formula.ts';

/** Distance from the corner of the straights to the start of the bend, m. */
export const bendSetback = defineFormula({
  id: 'bend-setback',
  title: 'Tangent setback of a bend',
  inputs: {
    radius: { quantity: 'length', range: [1e-3, 5], help: 'R, centreline radius' },
    angle: { quantity: 'angle', range: [0, 3.1], help: 'A, bend angle, below 180 degrees' },
  },
  output: { quantity: 'length', help: 'T = R tan(A/2)' },
  source: { document: 'geometry', trust: 'own' },
  examples: [
    {
      inputs: { radius: 66.75e-3, angle: Math.PI / 2 },
      expected: 66.75e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'example E-29: R 66.75 mm, 90 degrees', trust: 'own' },
    },
  ],
  compute({ radius, angle }) {
    return radius * Math.tan(angle / 2);
  },
});
