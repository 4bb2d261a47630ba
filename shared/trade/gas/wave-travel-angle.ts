import { defineFormula } from '../formula.ts';

/** Crank angle that passes while a wave travels a length once, rad. */
export const waveTravelAngle = defineFormula({
  id: 'wave-travel-angle',
  title: 'Crank angle of one-way wave travel',
  inputs: {
    speed: { quantity: 'rotation', range: [0, 400], help: 'N, crank speed' },
    length: { quantity: 'length', range: [0, 5], help: 'L, length travelled' },
    waveSpeed: { quantity: 'velocity', range: [100, 2000], help: 'a, speed of the wave' },
  },
  output: { quantity: 'angle', help: 'theta = 2 pi N L / a, N in rev/s (6 N L / a in degrees, N in rev/min)' },
  source: { document: 'own arithmetic', trust: 'own' },
  examples: [
    {
      inputs: { speed: 7000 / 60, length: 25e-3, waveSpeed: 694 },
      expected: (1.51 * Math.PI) / 180,
      tolerance: 3e-3,
      source: { document: 'own arithmetic', clause: '25 mm at 7000 rev/min, 694 m/s: 1.51 degrees', trust: 'own' },
    },
  ],
  compute({ speed, length, waveSpeed }) {
    return (2 * Math.PI * speed * length) / waveSpeed;
  },
});
