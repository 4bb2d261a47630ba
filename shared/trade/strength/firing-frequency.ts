import { defineFormula } from '../formula.ts';

/** Frequency of the firing pulses of a four-stroke engine, Hz: the main order a header is shaken with. */
export const firingFrequency = defineFormula({
  id: 'firing-frequency',
  title: 'Firing frequency of a four-stroke engine',
  inputs: {
    speed: { quantity: 'rotation', range: [1, 400], help: 'n, crankshaft speed' },
    cylinders: { quantity: 'count', range: [1, 16], help: 'number of cylinders that fire into the part' },
  },
  output: { quantity: 'frequency', help: 'f = n cylinders / 2' },
  source: { document: 'definition, four-stroke cycle', trust: 'memory' },
  examples: [
    {
      inputs: { speed: 8000 / 60, cylinders: 4 },
      expected: 266.6667,
      tolerance: 1e-6,
      source: { document: 'own arithmetic', clause: '4 cylinders at 8000 rev/min', trust: 'own' },
    },
    {
      inputs: { speed: 7500 / 60, cylinders: 6 },
      expected: 375,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '6 cylinders at 7500 rev/min', trust: 'own' },
    },
  ],
  compute({ speed, cylinders }) {
    return (speed * cylinders) / 2;
  },
});
