import { inconsistent } from '../data/validity.ts';
import { defineFormula } from '../formula.ts';
import { estimateDeviation, estimateFault } from './estimate.ts';

/** Standard deviation of a task's duration from three estimates, s, as PERT takes it; the beta distribution it speaks of has a slightly different one. */
export const pertDeviation = defineFormula({
  id: 'pert-deviation',
  title: 'Standard deviation of a duration, PERT',
  inputs: {
    optimistic: { quantity: 'time', range: [0, 1e9], help: 'o, shortest' },
    likely: { quantity: 'time', range: [0, 1e9], help: 'm, most likely' },
    pessimistic: { quantity: 'time', range: [0, 1e9], help: 'p, longest' },
  },
  output: { quantity: 'time', help: 'sigma = (p - o)/6' },
  source: { document: 'PERT, any operations research text', trust: 'memory' },
  examples: [
    {
      inputs: { optimistic: 2, likely: 3.5, pessimistic: 8 },
      expected: 1,
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
    if (wrong) return inconsistent(`pert-deviation: ${wrong}`);
    return estimateDeviation(estimate);
  },
});
