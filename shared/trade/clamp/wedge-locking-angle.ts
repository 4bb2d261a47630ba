import { defineFormula } from '../formula.ts';

/** Steepest wedge that holds by friction alone, rad, measured from the sealing plane. */
export const wedgeLockingAngle = defineFormula({
  id: 'wedge-locking-angle',
  title: 'Steepest self-locking wedge',
  inputs: {
    bevelFriction: { quantity: 'ratio', range: [0, 0.6], help: 'mu_1 on the bevel' },
    backFriction: { quantity: 'ratio', range: [0, 0.6], help: 'mu_2 on the ledge; 0 for one friction face' },
  },
  output: { quantity: 'angle', help: 'alpha = phi1 + phi2' },
  source: { document: 'own: statics of the wedge', trust: 'own' },
  examples: [
    {
      inputs: { bevelFriction: 0.15, backFriction: 0.15 },
      expected: (17.1 * Math.PI) / 180,
      tolerance: 3e-3,
      source: { document: 'own arithmetic', clause: 'two faces, mu 0.15', trust: 'own' },
    },
    {
      inputs: { bevelFriction: 0.15, backFriction: 0 },
      expected: (8.5 * Math.PI) / 180,
      tolerance: 4e-3,
      source: { document: 'own arithmetic', clause: 'one face, mu 0.15', trust: 'own' },
    },
  ],
  compute({ bevelFriction, backFriction }) {
    return Math.atan(bevelFriction) + Math.atan(backFriction);
  },
});
