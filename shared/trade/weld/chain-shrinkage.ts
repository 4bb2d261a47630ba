import { defineFormula } from '../formula.ts';

/** Shrinkage of a chain of joints, m: what to add to the stubs, half at each side of a joint. */
export const chainShrinkage = defineFormula({
  id: 'chain-shrinkage',
  title: 'Shrinkage of a chain of joints',
  inputs: {
    joints: { quantity: 'count', range: [0, 100], help: 'n, joints in the chain' },
    shrinkage: { quantity: 'length', range: [0, 5e-3], help: 'S of one joint' },
  },
  output: { quantity: 'length', help: 'n S' },
  source: {
    document: 'definition',
    trust: 'own',
    note: '0.4 to 0.8 mm per joint for 1.2 to 2.0 mm wall until a coupon says otherwise (common practice)',
  },
  examples: [
    {
      inputs: { joints: 4, shrinkage: 0.6e-3 },
      expected: 2.4e-3,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: 'four joints', trust: 'own' },
    },
  ],
  compute({ joints, shrinkage }) {
    return joints * shrinkage;
  },
});
