import { defineFormula } from '../formula.ts';

/** Pipe length whose reflected wave is back after a crank angle, m. Information only: it knows no turbine at the end of the pipe. */
export const waveReturnLength = defineFormula({
  id: 'wave-return-length',
  title: 'Pipe length from wave return',
  inputs: {
    speed: { quantity: 'rotation', range: [1, 400], help: 'N, crank speed' },
    angle: { quantity: 'angle', range: [0, 4 * Math.PI], help: 'theta_r, crank angle from pulse to return' },
    waveSpeed: { quantity: 'velocity', range: [100, 2000], help: 'a, speed of the wave' },
  },
  output: { quantity: 'length', help: 'L = a theta_r / (4 pi N), N in rev/s' },
  source: { document: 'own arithmetic', trust: 'own' },
  examples: [
    {
      inputs: { speed: 100, angle: (120 * Math.PI) / 180, waveSpeed: 660 },
      expected: 1.1,
      tolerance: 1e-9,
      source: {
        document: 'own arithmetic',
        clause: '660 m/s, 120 degrees, 6000 rev/min: 660 x 120 / (12 x 6000) m',
        trust: 'own',
      },
    },
  ],
  compute({ speed, angle, waveSpeed }) {
    return (waveSpeed * angle) / (4 * Math.PI * speed);
  },
});
