import { unknown } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';

/** Clamp force of a sliding wedge driven parallel to the sealing face, N. */
export const wedgeClampForce = defineFormula({
  id: 'wedge-clamp-force',
  title: 'Clamp force of a driven wedge',
  inputs: {
    drive: { quantity: 'force', range: [0, 1e6], help: 'P, driving force along the face' },
    angle: { quantity: 'angle', range: [0, 1.4], help: 'alpha, wedge angle FROM THE SEALING PLANE' },
    bevelFriction: { quantity: 'ratio', range: [0, 0.6], help: 'mu_1 on the bevel' },
    backFriction: { quantity: 'ratio', range: [0, 0.6], help: 'mu_2 on the ledge; 0 for a rolling back face' },
  },
  output: { quantity: 'force', help: 'N = P / (tan(alpha + phi1) + tan phi2)' },
  source: {
    document: 'own: statics of the wedge',
    trust: 'own',
    note: 'friction is the whole uncertainty: check at both ends of its band',
  },
  examples: [
    {
      inputs: { drive: 5000, angle: Math.PI / 6, bevelFriction: 0.15, backFriction: 0.15 },
      expected: 5283.664086,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector 3.3: 30 degrees, mu 0.15', trust: 'own' },
    },
  ],
  compute({ drive, angle, bevelFriction, backFriction }) {
    const steep = angle + Math.atan(bevelFriction);
    const resistance = Math.tan(steep) + backFriction;
    if (steep >= Math.PI / 2 || resistance <= 0) {
      const detail = `wedge-clamp-force: expected 0 < alpha + phi < 90 degrees, got ${(steep * 180) / Math.PI}`;
      return unknown({ reason: 'inconsistent', detail, paths: [] });
    }
    return drive / resistance;
  },
});
