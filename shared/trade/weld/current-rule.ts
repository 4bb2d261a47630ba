import { defineFormula } from '../formula.ts';

/** Current by the thumb rule of one ampere per thousandth of an inch, A: the top of the pedal, not the start. */
export const currentRule = defineFormula({
  id: 'current-rule',
  title: 'Welding current by thumb rule',
  inputs: {
    wall: { quantity: 'length', range: [3e-4, 6e-3], help: 't, wall' },
  },
  output: { quantity: 'current', help: 'I = t / 0.0254 mm' },
  source: {
    document: 'welding supplier reference chart',
    trust: 'excerpt',
    note: 'a published thin-sheet table has 0.68 to 0.76 of it for closed butts',
  },
  examples: [
    {
      inputs: { wall: 1.6e-3 },
      expected: 62.9921,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-12', trust: 'own' },
    },
  ],
  compute({ wall }) {
    return wall / 25.4e-6;
  },
});
