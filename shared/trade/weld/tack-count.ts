import { defineFormula } from '../formula.ts';

/** Number of tacks round a tube. */
export const tackCount = defineFormula({
  id: 'tack-count',
  title: 'Tacks round a tube',
  inputs: {
    outsideDiameter: { quantity: 'length', range: [5e-3, 0.5], help: 'OD' },
    spacing: { quantity: 'length', range: [2e-3, 0.2], help: 'greatest distance between tacks; 20 to 30 mm' },
    minimum: { quantity: 'count', range: [1, 20], help: 'least number', fallback: 4 },
  },
  output: { quantity: 'count', help: 'n = max(minimum, ceil(pi OD / spacing))' },
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'spacing and order by a welding institute page',
  },
  examples: [
    {
      inputs: { outsideDiameter: 45.2e-3, spacing: 20e-3, minimum: 4 },
      expected: 8,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: 'vector WE-19a', trust: 'own' },
    },
    {
      inputs: { outsideDiameter: 45.2e-3, spacing: 25e-3, minimum: 4 },
      expected: 6,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: 'vector WE-19b', trust: 'own' },
    },
    {
      inputs: { outsideDiameter: 45.2e-3, spacing: 30e-3, minimum: 4 },
      expected: 5,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: 'vector WE-19c', trust: 'own' },
    },
  ],
  compute({ outsideDiameter, spacing, minimum }) {
    return Math.max(minimum, Math.ceil((Math.PI * outsideDiameter) / spacing - 1e-9));
  },
});
