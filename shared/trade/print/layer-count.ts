import { defineFormula } from '../formula.ts';

/** Number of layers of a build; a hair over a whole number is rounding. */
export const layerCount = defineFormula({
  id: 'layer-count',
  title: 'Layer count',
  inputs: {
    height: { quantity: 'length', range: [1e-4, 1], help: 'H, build height' },
    layer: { quantity: 'length', range: [5e-6, 2e-4], help: 't, layer thickness' },
  },
  output: { quantity: 'count', help: 'N = ceil(H / t)' },
  source: { document: 'definition', trust: 'memory' },
  examples: [
    {
      inputs: { height: 12.5e-3, layer: 0.02e-3 },
      expected: 625,
      tolerance: 1e-9,
      source: { document: 'NIST AMB2018-01 bridge', clause: 'vector WE-02', trust: 'excerpt' },
    },
    {
      inputs: { height: 180e-3, layer: 0.04e-3 },
      expected: 4500,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: 'vector WE-03a', trust: 'own' },
    },
  ],
  compute({ height, layer }) {
    return Math.ceil(height / layer - 1e-6);
  },
});
