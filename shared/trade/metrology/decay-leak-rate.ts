import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { pressureDecayLeak } from './pressure-decay-leak.ts';

/** Leak rate of a closed volume from its fall of pressure, brought back to the start temperature, Pa.m3/s. */
export const decayLeakRate = defineFormula({
  id: 'decay-leak-rate',
  title: 'Leak rate from a pressure decay',
  inputs: {
    volume: { quantity: 'volume', range: [1e-6, 1], help: 'V' },
    startPressure: { quantity: 'pressure', range: [1e3, 2e6], help: 'p1, absolute' },
    endPressure: { quantity: 'pressure', range: [0, 2e6], help: 'p2, absolute' },
    startTemperature: { quantity: 'temperature', range: [250, 400], help: 'T1' },
    endTemperature: { quantity: 'temperature', range: [250, 400], help: 'T2' },
    duration: { quantity: 'time', range: [1, 1e6], help: 't' },
  },
  output: { quantity: 'leakRate', help: 'Q = V (p1 - p2 T1 / T2) / t' },
  source: { document: 'pressure change method, EN 13184', trust: 'memory' },
  examples: [
    {
      inputs: {
        volume: 0.0025,
        startPressure: 201325,
        endPressure: 200325,
        startTemperature: 293.15,
        endTemperature: 293.15,
        duration: 60,
      },
      expected: 0.041666666666666664,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '2.5 L, 1 kPa in 60 s', trust: 'own' },
    },
  ],
  compute: (decay) => derive({ leak: pressureDecayLeak(decay) }, ({ leak }) => leak.rate),
});
