import { defineFormula } from '../formula.ts';

/** Overhang angle from the plate, rad, of the wall of a tilted tube at a point round it. */
export const localOverhang = defineFormula({
  id: 'local-overhang',
  title: 'Overhang angle round a tilted tube',
  inputs: {
    polar: { quantity: 'angle', range: [-Math.PI / 2, Math.PI / 2], help: 'phi, angle from the crown of the bore' },
    tilt: { quantity: 'angle', range: [0, Math.PI / 2], help: 'beta, axis from the plate' },
  },
  output: { quantity: 'angle', help: 'alpha = acos(cos(phi) cos(beta))' },
  source: { document: 'own: geometry', trust: 'own' },
  examples: [
    {
      inputs: { polar: (35.2644 * Math.PI) / 180, tilt: (30 * Math.PI) / 180 },
      expected: (45 * Math.PI) / 180,
      tolerance: 1e-5,
      source: { document: 'own arithmetic', clause: 'vector WE-06c', trust: 'own' },
    },
  ],
  compute({ polar, tilt }) {
    return Math.acos(Math.min(1, Math.cos(polar) * Math.cos(tilt)));
  },
});
