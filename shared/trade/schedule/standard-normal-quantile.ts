import { defineFormula } from '../formula.ts';
import { normalQuantile } from './normal.ts';

/** Standard deviations above the mean that a standard normal variable stays below with a probability. */
export const standardNormalQuantile = defineFormula({
  id: 'standard-normal-quantile',
  title: 'Quantile of the standard normal distribution',
  inputs: {
    probability: { quantity: 'share', range: [1e-12, 1 - 1e-12], help: 'p' },
  },
  output: { quantity: 'ratio', help: 'z with Phi(z) = p' },
  source: { document: 'definition', trust: 'memory' },
  examples: [
    {
      inputs: { probability: 0.9 },
      expected: 1.2816,
      tolerance: 1e-4,
      source: { document: 'tables of the normal distribution', trust: 'memory' },
    },
    {
      inputs: { probability: 0.95 },
      expected: 1.6449,
      tolerance: 1e-4,
      source: { document: 'tables of the normal distribution', trust: 'memory' },
    },
  ],
  compute({ probability }) {
    return normalQuantile(probability);
  },
});
