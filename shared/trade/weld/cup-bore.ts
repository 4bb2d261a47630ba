import { defineFormula } from '../formula.ts';

/** Bore of a gas cup by its number, m. */
export const cupBore = defineFormula({
  id: 'cup-bore',
  title: 'Bore of a gas cup',
  inputs: {
    cupNumber: { quantity: 'count', range: [3, 16], help: 'number of the cup' },
  },
  output: { quantity: 'length', help: 'bore = number / 16 in' },
  source: { document: 'equipment manual, cup table', trust: 'excerpt' },
  examples: [
    {
      inputs: { cupNumber: 8 },
      expected: 12.7e-3,
      tolerance: 1e-3,
      source: { document: 'public page on gas cups', clause: 'vector WE-22b: #8 is 0.500 in', trust: 'excerpt' },
    },
  ],
  compute({ cupNumber }) {
    return (cupNumber * 0.0254) / 16;
  },
});
