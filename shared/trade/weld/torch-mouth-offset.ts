import { defineFormula } from '../formula.ts';

/** Sideways reach of the cup edge from the weld, m. */
export const torchMouthOffset = defineFormula({
  id: 'torch-mouth-offset',
  title: 'Offset of the cup edge',
  inputs: {
    stickOut: { quantity: 'length', range: [0, 0.05], help: 's, tungsten stick-out' },
    cupDiameter: { quantity: 'length', range: [3e-3, 0.05], help: 'OD of the cup' },
    tilt: { quantity: 'angle', range: [0, 1.3], help: 'theta, electrode from the joint normal' },
  },
  output: { quantity: 'length', help: 'offset = s sin(theta) + OD/2 cos(theta)' },
  source: { document: 'own: geometry', trust: 'own' },
  examples: [
    {
      inputs: { stickOut: 8e-3, cupDiameter: 19e-3, tilt: (15 * Math.PI) / 180 },
      expected: 11.2468e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-22a', trust: 'own' },
    },
  ],
  compute({ stickOut, cupDiameter, tilt }) {
    return stickOut * Math.sin(tilt) + (cupDiameter / 2) * Math.cos(tilt);
  },
});
