import { defineFormula } from '../formula.ts';

/** Greatest root opening read in a joint figure, m. */
export const rootGapLimit = defineFormula({
  id: 'root-gap-limit',
  title: 'Greatest root opening',
  inputs: {
    wall: { quantity: 'length', range: [5e-4, 0.02], help: 't, wall' },
  },
  output: { quantity: 'length', help: 'limit = 0.25 mm below 2.5 mm wall, 0.76 mm from there' },
  source: {
    document: 'AWS D17.1:2017 annex A, a joint figure',
    trust: 'uncertain',
    note: 'figure read by character recognition, the sign is inferred',
  },
  examples: [
    {
      inputs: { wall: 1.6e-3 },
      expected: 0.25e-3,
      tolerance: 1e-9,
      source: { document: 'AWS D17.1:2017 annex A', clause: 'thin wall', trust: 'uncertain' },
    },
  ],
  compute({ wall }) {
    return wall < 2.5e-3 ? 0.25e-3 : 0.76e-3;
  },
});
