import { defineFormula } from '../formula.ts';

/** Share of an external load that the bolt takes, dimensionless, bolt and joint of the same length. */
export const boltLoadShare = defineFormula({
  id: 'bolt-load-share',
  title: 'Share of the load the bolt takes',
  inputs: {
    boltModulus: { quantity: 'stress', range: [1e9, 3e11], help: 'E_b, bolt' },
    boltArea: { quantity: 'area', range: [1e-7, 1e-1], help: 'A_b, bolt section' },
    jointModulus: { quantity: 'stress', range: [1e9, 3e11], help: 'E_c, clamped part' },
    jointArea: { quantity: 'area', range: [1e-7, 1], help: 'A_c, clamped section' },
  },
  output: { quantity: 'share', help: 'C = E_b A_b / (E_b A_b + E_c A_c)' },
  source: { document: 'Bhandari, machine design textbook', clause: 'example 7.16', trust: 'excerpt' },
  examples: [
    {
      inputs: { boltModulus: 207e9, boltArea: 1e-4, jointModulus: 71e9, jointArea: 3e-4 },
      expected: 0.492857,
      tolerance: 1e-4,
      source: { document: 'Bhandari, machine design textbook, example 7.16', clause: 'vector 2.27', trust: 'excerpt' },
    },
  ],
  compute({ boltModulus, boltArea, jointModulus, jointArea }) {
    const bolt = boltModulus * boltArea;
    return bolt / (bolt + jointModulus * jointArea);
  },
});
