import { defineFormula } from '../formula.ts';

/** How far a layer reaches beyond the one below it, m. */
export const layerStepOut = defineFormula({
  id: 'layer-step-out',
  title: 'Step-out of a layer',
  inputs: {
    layer: { quantity: 'length', range: [5e-6, 2e-4], help: 't, layer thickness' },
    plateAngle: {
      quantity: 'angle',
      range: [0.01, Math.PI / 2 + 1e-9],
      help: 'alpha, overhang angle FROM THE PLATE; 90 degrees is a vertical wall',
    },
  },
  output: { quantity: 'length', help: 's = t / tan(alpha)' },
  source: { document: 'geometry', trust: 'own' },
  examples: [
    {
      inputs: { layer: 0.04e-3, plateAngle: (35 * Math.PI) / 180 },
      expected: 0.0571259e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-05b', trust: 'own' },
    },
    {
      inputs: { layer: 0.04e-3, plateAngle: Math.PI / 4 },
      expected: 0.04e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-05a', trust: 'own' },
    },
  ],
  compute({ layer, plateAngle }) {
    // The range ends a hair past a right angle, so that 90 degrees from any arithmetic is let in.
    return Math.max(0, layer / Math.tan(plateAngle));
  },
});
