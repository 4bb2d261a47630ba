import { defineFormula } from '../formula.ts';

/** Height of a bend above its chord, m. */
export const bendSagitta = defineFormula({
  id: 'bend-sagitta',
  title: 'Sagitta of a bend',
  inputs: {
    radius: { quantity: 'length', range: [1e-3, 5], help: 'R, centreline radius' },
    angle: { quantity: 'angle', range: [0, 2 * Math.PI], help: 'A, bend angle' },
  },
  output: { quantity: 'length', help: 's = R (1 - cos(A/2))' },
  source: { document: 'geometry', trust: 'own' },
  examples: [
    {
      inputs: { radius: 66.75e-3, angle: Math.PI / 2 },
      expected: 19.5505e-3,
      tolerance: 1e-4,
      source: { document: 'own arithmetic', clause: 'example E-29: R 66.75 mm, 90 degrees', trust: 'own' },
    },
  ],
  compute({ radius, angle }) {
    // As one less the cosine, a slight bend would keep no digits.
    return 2 * radius * Math.sin(angle / 4) ** 2;
  },
});
