import { defineFormula } from '../formula.ts';

/** Distance between evenly spaced tacks, m. */
export const tackSpacing = defineFormula({
  id: 'tack-spacing',
  title: 'Distance between tacks',
  inputs: {
    outsideDiameter: { quantity: 'length', range: [5e-3, 0.5], help: 'OD' },
    tacks: { quantity: 'count', range: [1, 100], help: 'number of tacks' },
  },
  output: { quantity: 'length', help: 'spacing = pi OD / n' },
  source: { document: 'geometry', trust: 'own' },
  examples: [
    {
      inputs: { outsideDiameter: 45.2e-3, tacks: 8 },
      expected: 17.75e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'OD 45.2, eight tacks', trust: 'own' },
    },
  ],
  compute({ outsideDiameter, tacks }) {
    return (Math.PI * outsideDiameter) / tacks;
  },
});
