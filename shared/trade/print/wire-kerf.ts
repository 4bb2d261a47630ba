import { defineFormula } from '../formula.ts';

/** Width a wire cut takes, m. */
export const wireKerf = defineFormula({
  id: 'wire-kerf',
  title: 'Wire-cut kerf',
  inputs: {
    wire: { quantity: 'length', range: [2e-5, 1e-3], help: 'wire diameter' },
    sparkGap: { quantity: 'length', range: [0, 2e-4], help: 'gap on each side' },
  },
  output: { quantity: 'length', help: 'kerf = wire + 2 gap' },
  source: { document: 'definition', trust: 'memory' },
  examples: [
    {
      inputs: { wire: 0.25e-3, sparkGap: 0.03e-3 },
      expected: 0.31e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-10', trust: 'own' },
    },
  ],
  compute({ wire, sparkGap }) {
    return wire + 2 * sparkGap;
  },
});
