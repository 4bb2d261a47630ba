import { defineFormula } from '../formula.ts';

/** Volume one laser melts per time without jumps and recoating, m3/s. */
export const meltRate = defineFormula({
  id: 'melt-rate',
  title: 'Ideal melt rate',
  inputs: {
    scanSpeed: { quantity: 'velocity', range: [0.01, 10], help: 'v, scan speed' },
    hatch: { quantity: 'length', range: [1e-5, 5e-4], help: 'h, distance between scan lines' },
    layer: { quantity: 'length', range: [5e-6, 2e-4], help: 't, layer thickness' },
  },
  output: { quantity: 'volumeFlow', help: 'q = v h t' },
  source: { document: 'definition', trust: 'memory' },
  examples: [
    {
      inputs: { scanSpeed: 0.8, hatch: 0.1e-3, layer: 0.02e-3 },
      expected: 1.6e-9,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-01a: NIST AMB2018-01 settings', trust: 'own' },
    },
    {
      inputs: { scanSpeed: 0.96, hatch: 0.11e-3, layer: 0.04e-3 },
      expected: 4.224e-9,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-01c', trust: 'own' },
    },
  ],
  compute({ scanSpeed, hatch, layer }) {
    return scanSpeed * hatch * layer;
  },
});
