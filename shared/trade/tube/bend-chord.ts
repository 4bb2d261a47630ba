import { defineFormula } from '../formula.ts';

/** Straight distance between the ends of a bend, m. */
export const bendChord = defineFormula({
  id: 'bend-chord',
  title: 'Chord of a bend',
  inputs: {
    radius: { quantity: 'length', range: [1e-3, 5], help: 'R, centreline radius' },
    angle: { quantity: 'angle', range: [0, 2 * Math.PI], help: 'A, bend angle' },
  },
  output: { quantity: 'length', help: 'chord = 2 R sin(A/2)' },
  source: { document: 'geometry', trust: 'own' },
  examples: [
    {
      inputs: { radius: 66.75e-3, angle: Math.PI / 2 },
      expected: 94.399e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'example E-29: R 66.75 mm, 90 degrees', trust: 'own' },
    },
  ],
  compute({ radius, angle }) {
    return 2 * radius * Math.sin(angle / 2);
  },
});
