import { defineFormula } from '../formula.ts';

/** Height of the low edge of the cup above the weld, m; below 0 the cup touches. */
export const torchMouthHeight = defineFormula({
  id: 'torch-mouth-height',
  title: 'Height of the low cup edge',
  inputs: {
    stickOut: { quantity: 'length', range: [0, 0.05], help: 's, tungsten stick-out' },
    cupDiameter: { quantity: 'length', range: [3e-3, 0.05], help: 'OD of the cup' },
    tilt: { quantity: 'angle', range: [0, 1.3], help: 'theta, electrode from the joint normal' },
  },
  output: { quantity: 'length', help: 'height = s cos(theta) - OD/2 sin(theta)' },
  source: { document: 'own: geometry', trust: 'own' },
  examples: [
    {
      inputs: { stickOut: 8e-3, cupDiameter: 19e-3, tilt: (15 * Math.PI) / 180 },
      expected: 5.26863e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-22a', trust: 'own' },
    },
  ],
  compute({ stickOut, cupDiameter, tilt }) {
    return stickOut * Math.cos(tilt) - (cupDiameter / 2) * Math.sin(tilt);
  },
});
