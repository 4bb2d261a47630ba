import { defineFormula } from '../formula.ts';
import { chanceBy } from './pert.ts';

/** Chance that a plan whose end is normal is done by a date, share. */
export const chanceByDate = defineFormula({
  id: 'chance-by-date',
  title: 'Chance of being done by a date',
  inputs: {
    date: { quantity: 'time', range: [0, 1e9], help: 'since any start' },
    mean: { quantity: 'time', range: [0, 1e9], help: 'mu, of the end' },
    deviation: { quantity: 'time', range: [0, 1e9], help: 'sigma, of the end' },
  },
  output: { quantity: 'share', help: 'Phi((date - mu) / sigma)' },
  source: {
    document: 'PERT, any operations research text',
    trust: 'memory',
    note: 'optimistic: where paths merge, the later of two uncertain dates is later than either mean',
  },
  examples: [
    {
      inputs: { date: 20, mean: 18, deviation: 2 },
      expected: 0.841344746,
      tolerance: 1e-8,
      source: { document: 'own arithmetic', clause: 'one deviation beyond the mean', trust: 'own' },
    },
  ],
  compute: ({ date, mean, deviation }) => chanceBy(date, { mean, variance: deviation ** 2 }),
});
