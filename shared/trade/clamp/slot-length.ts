import { defineFormula } from '../formula.ts';

/** Length of a slot that lets a stud move both ways, m. */
export const slotLength = defineFormula({
  id: 'slot-length',
  title: 'Slot length for growth',
  inputs: {
    diameter: { quantity: 'length', range: [1e-3, 0.1], help: 'd, stud' },
    growth: { quantity: 'length', range: [0, 0.05], help: 'growth at that stud, as a size' },
    positionError: { quantity: 'length', range: [0, 5e-3], help: 'position error of the pair' },
  },
  output: { quantity: 'length', help: 'slot = d + 2 (growth + error)' },
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'the washer must cover it; heat soak moves it the other way',
  },
  examples: [
    {
      inputs: { diameter: 8e-3, growth: 0.782e-3, positionError: 0.1e-3 },
      expected: 9.764e-3,
      tolerance: 1e-6,
      source: { document: 'own arithmetic', clause: '625 flange, 0.782 mm', trust: 'own' },
    },
  ],
  compute({ diameter, growth, positionError }) {
    return diameter + 2 * (growth + positionError);
  },
});
