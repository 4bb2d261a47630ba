import { defineFormula } from '../formula.ts';

/** Factor on the wall that a bend needs on its inside, dimensionless. */
export const bendIntradosFactor = defineFormula({
  id: 'bend-intrados-factor',
  title: 'Wall factor on the inside of a bend',
  inputs: {
    tightness: { quantity: 'ratio', range: [1, 20], help: 'R/D, centreline radius over outside diameter' },
  },
  output: { quantity: 'ratio', help: 'I = (4 R/D - 1) / (4 R/D - 2)' },
  source: { document: 'ASME B31.3', clause: '304.2.1', trust: 'memory' },
  examples: [
    {
      inputs: { tightness: 1.5 },
      expected: 1.25,
      tolerance: 1e-9,
      source: { document: 'ASME B31.3', clause: 'R/D 1.5', trust: 'memory' },
    },
    {
      inputs: { tightness: 2 },
      expected: 1.1667,
      tolerance: 1e-4,
      source: { document: 'ASME B31.3', clause: 'R/D 2', trust: 'memory' },
    },
  ],
  compute({ tightness }) {
    return (4 * tightness - 1) / (4 * tightness - 2);
  },
});
