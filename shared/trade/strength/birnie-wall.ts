import { unknown } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';

/** Wall an open-ended thick tube of ductile metal needs, m. */
export const birnieWall = defineFormula({
  id: 'birnie-wall',
  title: 'Wall of an open thick tube (Birnie)',
  inputs: {
    pressure: { quantity: 'pressure', range: [0, 1e8], help: 'p, pressure above the surroundings (gauge)' },
    bore: { quantity: 'length', range: [1e-3, 5], help: 'D_i, inside diameter' },
    allowableStress: { quantity: 'stress', range: [1e5, 2e9], help: 'allowable stress' },
    poisson: { quantity: 'ratio', range: [0.1, 0.45], help: 'nu, Poisson ratio' },
  },
  output: { quantity: 'length', help: 't = D_i/2 (sqrt((sigma + (1 - nu) p) / (sigma - (1 + nu) p)) - 1)' },
  source: {
    document: 'Bhandari, machine design textbook',
    clause: 'open thick cylinder, largest strain',
    trust: 'excerpt',
  },
  examples: [
    {
      inputs: { pressure: 12e6, bore: 0.1, allowableStress: 92e6, poisson: 0.27 },
      expected: 7.28575e-3,
      tolerance: 1e-5,
      source: { document: 'Bhandari, machine design textbook, example 22.5', clause: 'vector 6.2', trust: 'excerpt' },
    },
  ],
  compute({ pressure, bore, allowableStress, poisson }) {
    const left = allowableStress - (1 + poisson) * pressure;
    if (left <= 0) {
      const range: readonly [number, number] = [0, allowableStress / (1 + poisson)];
      return unknown({
        reason: 'outOfValidity',
        input: 'birnie-wall: pressure',
        value: pressure,
        range,
        unit: 'pressure',
      });
    }
    // The root less one, without the difference that leaves a thin wall no digits.
    const more = (2 * pressure) / left;
    return ((bore / 2) * more) / (Math.sqrt(1 + more) + 1);
  },
});
