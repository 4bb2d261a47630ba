import { defineFormula } from '../formula.ts';

/** Sand-grain roughness over bore, dimensionless. */
export const relativeRoughness = defineFormula({
  id: 'relative-roughness',
  title: 'Relative roughness',
  inputs: {
    roughness: { quantity: 'length', range: [0, 5e-3], help: 'epsilon, sand grain' },
    bore: { quantity: 'length', range: [5e-3, 0.5], help: 'D' },
  },
  output: { quantity: 'ratio', help: 'epsilon / D' },
  source: { document: 'definition', trust: 'memory' },
  examples: [
    {
      inputs: { roughness: 4.5e-5, bore: 0.0409 },
      expected: 0.0011002444987775063,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '45 um in 40.9 mm', trust: 'own' },
    },
  ],
  compute: ({ roughness, bore }) => roughness / bore,
});
