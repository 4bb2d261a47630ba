import { inconsistent } from '../data/validity.ts';
import { defineFormula } from '../formula.ts';
import { estimateFault, estimateMean } from './estimate.ts';

/** Expected duration of a task from three estimates, s. */
export const pertMean = defineFormula({
  id: 'pert-mean',
  title: 'Expected duration, PERT',
  inputs: {
    optimistic: { quantity: 'time', range: [0, 1e9], help: 'o, shortest' },
    likely: { quantity: 'time', range: [0, 1e9], help: 'm, most likely' },
    pessimistic: { quantity: 'time', range: [0, 1e9], help: 'p, longest' },
  },
  output: { quantity: 'time', help: 't_e = (o + 4 m + p)/6' },
  source: { document: 'PERT, any operations research text', trust: 'memory' },
  examples: [
    {
      inputs: { optimistic: 2, likely: 3.5, pessimistic: 8 },
      expected: 4,
      tolerance: 1e-9,
      source: {
        document: 'Hillier and Lieberman, Reliable Construction',
        clause: 'example E-49, task B',
        trust: 'memory',
      },
    },
  ],
  compute(estimate) {
    const wrong = estimateFault(estimate);
    if (wrong) return inconsistent(`pert-mean: ${wrong}`);
    return estimateMean(estimate);
  },
});
