import { unknown } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';

/** Axial clamp force of a V-band, N; friction along the band is left out, so the real one is lower. */
export const vBandAxialForce = defineFormula({
  id: 'v-band-axial-force',
  title: 'Axial force of a V-band',
  inputs: {
    bandTension: { quantity: 'force', range: [0, 1e5], help: 'T, tension of the band' },
    halfAngle: {
      quantity: 'angle',
      range: [0.05, 1.2],
      help: 'theta, half the groove angle; 20 degrees for a 40 degree groove',
    },
    friction: { quantity: 'ratio', range: [0, 0.6], help: 'mu, friction on the cones' },
  },
  output: { quantity: 'force', help: 'W = pi T / tan(theta + phi)' },
  source: { document: 'own: statics of the cone', trust: 'own' },
  examples: [
    {
      inputs: { bandTension: 3000, halfAngle: Math.PI / 9, friction: 0.15 },
      expected: 17336.076,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector 3.15: 3 kN, 20 degrees, mu 0.15', trust: 'own' },
    },
  ],
  compute({ bandTension, halfAngle, friction }) {
    const steep = halfAngle + Math.atan(friction);
    if (steep >= Math.PI / 2) {
      const detail = `v-band-axial-force: expected theta + phi below 90 degrees, got ${(steep * 180) / Math.PI}`;
      return unknown({ reason: 'inconsistent', detail, paths: [] });
    }
    return (Math.PI * bandTension) / Math.tan(steep);
  },
});
