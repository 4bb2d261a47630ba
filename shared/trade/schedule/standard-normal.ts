import { defineFormula } from '../formula.ts';
import { normalProbability } from './normal.ts';

/** Probability that a standard normal variable is at most z. */
export const standardNormal = defineFormula({
  id: 'standard-normal',
  title: 'Standard normal distribution',
  inputs: {
    z: { quantity: 'ratio', range: [-38, 38], help: 'standard deviations above the mean' },
  },
  output: { quantity: 'share', help: 'Phi(z)' },
  source: { document: 'definition; series and continued fraction as in any text on probability', trust: 'memory' },
  examples: [
    {
      inputs: { z: 1.6448536269514722 },
      expected: 0.95,
      tolerance: 1e-12,
      source: { document: 'tables of the normal distribution', trust: 'memory' },
    },
    {
      inputs: { z: -1.959963984540054 },
      expected: 0.025,
      tolerance: 1e-11,
      source: { document: 'tables of the normal distribution', trust: 'memory' },
    },
  ],
  compute({ z }) {
    return normalProbability(z);
  },
});
