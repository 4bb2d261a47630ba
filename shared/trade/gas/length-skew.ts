import { defineFormula } from '../formula.ts';

/** Crank angle by which a pulse comes late through a runner longer by a mismatch, rad; negative when it is shorter. */
export const lengthSkew = defineFormula({
  id: 'length-skew',
  title: 'Pulse skew of a length mismatch',
  inputs: {
    speed: { quantity: 'rotation', range: [0, 400], help: 'N, crank speed' },
    mismatch: { quantity: 'length', range: [-2, 2], help: 'dL, runner length minus reference length' },
    waveSpeed: { quantity: 'velocity', range: [100, 2000], help: 'a, speed of the wave' },
  },
  output: { quantity: 'angle', help: 'dtheta = 2 pi N dL / a, N in rev/s' },
  source: { document: 'own arithmetic', trust: 'own' },
  examples: [
    {
      inputs: { speed: 7000 / 60, mismatch: 10e-3, waveSpeed: 694 },
      expected: (0.605 * Math.PI) / 180,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: '10 mm at 7000 rev/min, 694 m/s: 0.61 degrees', trust: 'own' },
    },
  ],
  compute({ speed, mismatch, waveSpeed }) {
    return (2 * Math.PI * speed * mismatch) / waveSpeed;
  },
});
