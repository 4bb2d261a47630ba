import { defineFormula } from '../formula.ts';

/** Lower bound of any purge time, s: the gas pushes the air out without mixing. */
export const purgeTimePlugFlow = defineFormula({
  id: 'purge-time-plug-flow',
  title: 'Purge time, plug flow (lower bound)',
  inputs: {
    volume: { quantity: 'volume', range: [1e-7, 10], help: 'V, volume between the dams' },
    flow: { quantity: 'volumeFlow', range: [1e-8, 0.1], help: 'Q, purge gas flow at the pressure of the volume' },
  },
  output: { quantity: 'time', help: 't = V / Q' },
  source: { document: 'plug-flow displacement', trust: 'memory' },
  examples: [
    {
      inputs: { volume: 2e-3, flow: 8e-3 / 60 },
      expected: 15,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '2 L at 8 L/min', trust: 'own' },
    },
  ],
  compute({ volume, flow }) {
    return volume / flow;
  },
});
