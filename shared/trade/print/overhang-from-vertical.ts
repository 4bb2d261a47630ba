import { defineFormula } from '../formula.ts';

/** Overhang angle from vertical, rad, of one given from the plate: the two conventions in use. */
export const overhangFromVertical = defineFormula({
  id: 'overhang-from-vertical',
  title: 'Overhang angle from vertical',
  inputs: {
    plateAngle: { quantity: 'angle', range: [0, Math.PI / 2 + 1e-9], help: 'alpha, overhang angle FROM THE PLATE' },
  },
  output: { quantity: 'angle', help: 'delta = 90 degrees - alpha' },
  source: { document: 'geometry', clause: 'angle conventions', trust: 'own' },
  examples: [
    {
      inputs: { plateAngle: (35 * Math.PI) / 180 },
      expected: (55 * Math.PI) / 180,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: 'vector WE-05b', trust: 'own' },
    },
  ],
  compute({ plateAngle }) {
    // The range ends a hair past a right angle, so that 90 degrees from any arithmetic is let in.
    return Math.max(0, Math.PI / 2 - plateAngle);
  },
});
