import { defineFormula } from '../formula.ts';

/** Symmetric tolerance of a printed length by the other bureau rule, m. */
export const printToleranceStepped = defineFormula({
  id: 'print-tolerance-stepped',
  title: 'Tolerance of a printed length (stepped rule)',
  inputs: {
    length: { quantity: 'length', range: [0, 2], help: 'L, length' },
  },
  output: { quantity: 'length', help: 'tolerance = 0.13 mm + 0.05 mm for each 25 mm begun after the first' },
  source: { document: 'trade page on printing tolerances', trust: 'excerpt' },
  examples: [
    {
      inputs: { length: 25e-3 },
      expected: 0.13e-3,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '25 mm', trust: 'own' },
    },
    {
      inputs: { length: 180e-3 },
      expected: 0.48e-3,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '180 mm: seven more steps begun', trust: 'own' },
    },
  ],
  compute({ length }) {
    return 0.13e-3 + 0.05e-3 * Math.max(0, Math.ceil(length / 0.025 - 1 - 1e-9));
  },
});
