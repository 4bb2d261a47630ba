import { defineFormula } from '../formula.ts';

/** Symmetric tolerance of a printed length, m: a floor, or a share of the length. */
export const printTolerance = defineFormula({
  id: 'print-tolerance',
  title: 'Tolerance of a printed length',
  inputs: {
    length: { quantity: 'length', range: [0, 2], help: 'L, length' },
    floor: { quantity: 'length', range: [1e-6, 2e-3], help: 'least tolerance', fallback: 1e-4 },
    lengthShare: { quantity: 'share', range: [0, 0.02], help: 'share of the length', fallback: 0.002 },
  },
  output: { quantity: 'length', help: 'tolerance = max(floor, share L)' },
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: '0.1 mm or 0.2 %, usual bureau statement',
  },
  examples: [
    {
      inputs: { length: 180e-3, floor: 1e-4, lengthShare: 0.002 },
      expected: 0.36e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-09c', trust: 'own' },
    },
    {
      inputs: { length: 50e-3, floor: 1e-4, lengthShare: 0.002 },
      expected: 0.1e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-09b', trust: 'own' },
    },
  ],
  compute({ length, floor, lengthShare }) {
    return Math.max(floor, lengthShare * length);
  },
});
