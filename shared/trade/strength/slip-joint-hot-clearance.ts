import { defineFormula } from '../formula.ts';

/** Diametral clearance left in a hot slip joint, m; at or below zero it seizes. 0.05 to 0.15 mm should be left (common practice). */
export const slipJointHotClearance = defineFormula({
  id: 'slip-joint-hot-clearance',
  title: 'Clearance left in a hot slip joint',
  inputs: {
    coldClearance: { quantity: 'length', range: [0, 5e-3], help: 'diametral clearance as made' },
    loss: { quantity: 'length', range: [-5e-3, 5e-3], help: 'diametral clearance lost when hot, see slip-joint-loss' },
  },
  output: { quantity: 'length', help: 'hot clearance = cold clearance - loss' },
  source: { document: 'definition', trust: 'own' },
  examples: [
    {
      inputs: { coldClearance: 0.35e-3, loss: 0.226e-3 },
      expected: 0.124e-3,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '0.35 mm cold', trust: 'own' },
    },
  ],
  compute({ coldClearance, loss }) {
    return coldClearance - loss;
  },
});
