import { defineFormula } from '../formula.ts';

/** Force needed to withdraw a wedge over its clamp force; below 0 it flies out by itself, at or above 0 it is self-locking. */
export const wedgeReleaseShare = defineFormula({
  id: 'wedge-release-share',
  title: 'Release force of a wedge per clamp force',
  inputs: {
    angle: { quantity: 'angle', range: [0, 1.4], help: 'alpha, wedge angle FROM THE SEALING PLANE' },
    bevelFriction: { quantity: 'ratio', range: [0, 0.6], help: 'mu_1 on the bevel' },
    backFriction: { quantity: 'ratio', range: [0, 0.6], help: 'mu_2 on the ledge; 0 for a rolling back face' },
  },
  output: { quantity: 'ratio', help: 'release = tan(phi1 - alpha) + tan phi2' },
  source: { document: 'own: statics of the wedge', trust: 'own' },
  examples: [
    {
      inputs: { angle: Math.PI / 6, bevelFriction: 0.15, backFriction: 0.15 },
      expected: -0.24329,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector 3.3', trust: 'own' },
    },
  ],
  compute({ angle, bevelFriction, backFriction }) {
    return Math.tan(Math.atan(bevelFriction) - angle) + backFriction;
  },
});
