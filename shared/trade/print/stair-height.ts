import { defineFormula } from '../formula.ts';

/** Ideal peak-to-valley height of the layer steps on a slope, m. */
export const stairHeight = defineFormula({
  id: 'stair-height',
  title: 'Stair-step height',
  inputs: {
    layer: { quantity: 'length', range: [5e-6, 2e-4], help: 't, layer thickness' },
    plateAngle: {
      quantity: 'angle',
      range: [0.01, Math.PI / 2 + 1e-9],
      help: 'alpha, overhang angle FROM THE PLATE; 90 degrees is a vertical wall',
    },
  },
  output: { quantity: 'length', help: 'PV = t cos(alpha)' },
  source: { document: 'own: geometry', trust: 'own' },
  examples: [
    {
      inputs: { layer: 0.1016e-3, plateAngle: Math.PI / 4 },
      expected: 0.071842e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-11b', trust: 'own' },
    },
  ],
  compute({ layer, plateAngle }) {
    // The range ends a hair past a right angle, so that 90 degrees from any arithmetic is let in.
    return Math.max(0, layer * Math.cos(plateAngle));
  },
});
