import { defineFormula } from '../formula.ts';

/** Base argon flow of a gas cup, m3/s. */
export const torchFlow = defineFormula({
  id: 'torch-flow',
  title: 'Base argon flow of a torch',
  inputs: {
    cupNumber: { quantity: 'count', range: [3, 16], help: 'number of the cup' },
  },
  output: { quantity: 'volumeFlow', help: 'Q = 2 ft3/h times the number' },
  source: { document: 'public page on gas cups', trust: 'excerpt' },
  examples: [
    {
      inputs: { cupNumber: 8 },
      expected: 7.55116e-3 / 60,
      tolerance: 1e-3,
      source: { document: 'public page on gas cups', clause: 'vector WE-22b: #8 is 16 cfh', trust: 'excerpt' },
    },
  ],
  compute({ cupNumber }) {
    return (2 * cupNumber * 0.3048 ** 3) / 3600;
  },
});
