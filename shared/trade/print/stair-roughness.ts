import { defineFormula } from '../formula.ts';

/** Ideal Ra of the layer steps on a slope, m; sintered powder comes on top. */
export const stairRoughness = defineFormula({
  id: 'stair-roughness',
  title: 'Stair-step roughness',
  inputs: {
    layer: { quantity: 'length', range: [5e-6, 2e-4], help: 't, layer thickness' },
    plateAngle: {
      quantity: 'angle',
      range: [0.01, Math.PI / 2 + 1e-9],
      help: 'alpha, overhang angle FROM THE PLATE; 90 degrees is a vertical wall',
    },
  },
  output: { quantity: 'length', help: 'Ra = t cos(alpha) / 4' },
  source: { document: 'own: mean deviation of a triangle profile', trust: 'own' },
  examples: [
    {
      inputs: { layer: 0.1016e-3, plateAngle: Math.PI / 4 },
      expected: 17.9605e-6,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-11b', trust: 'own' },
    },
    {
      inputs: { layer: 0.1016e-3, plateAngle: Math.PI / 3 },
      expected: 12.7e-6,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-11c', trust: 'own' },
    },
  ],
  compute({ layer, plateAngle }) {
    // The range ends a hair past a right angle, so that 90 degrees from any arithmetic is let in.
    return Math.max(0, (layer * Math.cos(plateAngle)) / 4);
  },
});
