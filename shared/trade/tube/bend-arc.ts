import { defineFormula } from '../formula.ts';

/** Length of the centreline of a bend, m. */
export const bendArc = defineFormula({
  id: 'bend-arc',
  title: 'Arc length of a bend',
  inputs: {
    radius: { quantity: 'length', range: [1e-3, 5], help: 'R, centreline radius' },
    angle: { quantity: 'angle', range: [0, 2 * Math.PI], help: 'A, bend angle' },
  },
  output: { quantity: 'length', help: 'arc = R A' },
  source: { document: 'geometry', trust: 'own' },
  examples: [
    {
      inputs: { radius: 66.75e-3, angle: Math.PI / 2 },
      expected: 104.851e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'example E-29: R 66.75 mm, 90 degrees', trust: 'own' },
    },
  ],
  compute({ radius, angle }) {
    return radius * angle;
  },
});
