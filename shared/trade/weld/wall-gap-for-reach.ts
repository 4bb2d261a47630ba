import { defineFormula } from '../formula.ts';

/** Least gap between neighbouring walls for a torch that reaches in from one side, m. */
export const wallGapForReach = defineFormula({
  id: 'wall-gap-for-reach',
  title: 'Gap between walls for a torch',
  inputs: {
    stickOut: { quantity: 'length', range: [0, 0.05], help: 's, tungsten stick-out' },
    cupDiameter: { quantity: 'length', range: [3e-3, 0.05], help: 'OD of the cup' },
    tilt: { quantity: 'angle', range: [0, 1.3], help: 'theta, electrode from the joint normal' },
    airGap: { quantity: 'length', range: [0, 0.02], help: 'left free on each side', fallback: 3e-3 },
  },
  output: { quantity: 'length', help: 'gap = s sin(theta) + OD/2 cos(theta) + air on both sides' },
  source: { document: 'own: cup sweep', trust: 'own', note: '20 to 25 mm for a small torch (common practice)' },
  examples: [
    {
      inputs: { stickOut: 8e-3, cupDiameter: 19e-3, tilt: (15 * Math.PI) / 180, airGap: 3e-3 },
      expected: 17.2468e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'WE-22a plus 3 mm each side', trust: 'own' },
    },
  ],
  compute({ stickOut, cupDiameter, tilt, airGap }) {
    return stickOut * Math.sin(tilt) + (cupDiameter / 2) * Math.cos(tilt) + 2 * airGap;
  },
});
