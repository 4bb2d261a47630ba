import { defineFormula } from '../formula.ts';

/** Greatest tungsten stick-out, m. */
export const stickOutLimit = defineFormula({
  id: 'stick-out-limit',
  title: 'Greatest tungsten stick-out',
  inputs: {
    tungsten: { quantity: 'length', range: [5e-4, 6e-3], help: 'd, tungsten diameter' },
    factor: {
      quantity: 'ratio',
      range: [3, 6],
      help: '3 in general; at most 6 with a gas lens out of draughts',
      fallback: 3,
    },
  },
  output: { quantity: 'length', help: 's = factor d' },
  source: { document: 'torch maker handbook page', trust: 'excerpt' },
  examples: [
    {
      inputs: { tungsten: 2.4e-3, factor: 3 },
      expected: 7.2e-3,
      tolerance: 1e-9,
      source: { document: 'torch maker handbook page', clause: 'vector WE-22b', trust: 'excerpt' },
    },
    {
      inputs: { tungsten: 2.4e-3, factor: 6 },
      expected: 14.4e-3,
      tolerance: 1e-9,
      source: { document: 'torch maker handbook page', clause: 'vector WE-22b: gas lens', trust: 'excerpt' },
    },
  ],
  compute({ tungsten, factor }) {
    return factor * tungsten;
  },
});
