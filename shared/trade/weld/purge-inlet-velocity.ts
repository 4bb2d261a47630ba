import { defineFormula } from '../formula.ts';

/** Velocity of purge gas in a hose or tube, m/s. */
export const purgeInletVelocity = defineFormula({
  id: 'purge-inlet-velocity',
  title: 'Purge gas velocity',
  inputs: {
    flow: { quantity: 'volumeFlow', range: [0, 0.1], help: 'Q, gas flow' },
    bore: { quantity: 'length', range: [1e-3, 1], help: 'd, inside diameter' },
  },
  output: { quantity: 'velocity', help: 'w = Q / (pi/4 d^2)' },
  source: { document: 'definition', trust: 'memory' },
  examples: [
    {
      inputs: { flow: 8e-3 / 60, bore: 6e-3 },
      expected: 4.7157,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: '8 L/min in a 6 mm hose', trust: 'own' },
    },
    {
      inputs: { flow: 8e-3 / 60, bore: 42e-3 },
      expected: 0.09624,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: '8 L/min in a 42 mm runner', trust: 'own' },
    },
  ],
  compute({ flow, bore }) {
    return flow / ((Math.PI / 4) * bore ** 2);
  },
});
