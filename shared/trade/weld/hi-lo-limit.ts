import { defineFormula } from '../formula.ts';

/** Own limit of the step between two tube walls, m: tighter than the standard, which is loose for a gas path. */
export const hiLoLimit = defineFormula({
  id: 'hi-lo-limit',
  title: 'Own limit of wall step',
  inputs: {
    wall: { quantity: 'length', range: [5e-4, 0.01], help: 't, wall' },
  },
  output: { quantity: 'length', help: 'limit = min(0.2 t, 0.3 mm)' },
  source: { document: 'common practice, no source', trust: 'practice', note: 'for tube of 1 to 2 mm wall' },
  examples: [
    {
      inputs: { wall: 1.6e-3 },
      expected: 0.3e-3,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '1.6 mm wall', trust: 'own' },
    },
    {
      inputs: { wall: 1.2e-3 },
      expected: 0.24e-3,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '1.2 mm wall', trust: 'own' },
    },
  ],
  compute({ wall }) {
    return Math.min(0.2 * wall, 0.3e-3);
  },
});
