import { inconsistent } from '../data/validity.ts';
import { defineFormula } from '../formula.ts';
import { targetTemperature } from './target-temperature.ts';

/** Steady temperature of a thin neighbour under irradiation, K; pessimistic for short pulls, optimistic for the soak after shut-down. */
export const neighbourTemperature = defineFormula({
  id: 'neighbour-temperature',
  title: 'Temperature of a neighbour',
  inputs: {
    irradiation: { quantity: 'heatFlux', range: [0, 1e6], help: 'G' },
    emissivity: { quantity: 'ratio', range: [0, 1], help: 'e, absorbs as it emits' },
    faces: {
      quantity: 'count',
      range: [1, 2],
      help: 'faces that give heat off: 1 with an insulated back, 2 with a free one',
    },
    coefficient: {
      quantity: 'heatTransfer',
      range: [1, 500],
      help: 'h, of a face to the air; 10 to 25 underhood (own)',
    },
    air: { quantity: 'temperature', range: [220, 800], help: 'T_a' },
  },
  output: { quantity: 'temperature', help: 'e G = e sigma T^4 + s h (T - T_a) + (s - 1) e sigma (T^4 - T_a^4)' },
  source: { document: 'own balance, solved by bracketing', trust: 'own' },
  examples: [
    {
      inputs: { irradiation: 22288.922344617702, emissivity: 0.9, faces: 1, coefficient: 15, air: 353.15 },
      expected: 729.15,
      tolerance: 0.001,
      source: {
        document: 'own arithmetic',
        clause: 'example E-27: black plate 25 mm from a pipe at 700 C',
        trust: 'own',
      },
    },
  ],
  compute({ irradiation, emissivity, faces, coefficient, air }) {
    if (faces !== 1 && faces !== 2) return inconsistent(`neighbour-temperature: expected 1 or 2 faces, got ${faces}`);
    return targetTemperature(irradiation, { emissivity, faces, coefficient }, air);
  },
});
