import { defineFormula } from '../formula.ts';

/** Wall a thin cylinder needs, m, on its bore diameter. */
export const thinCylinderWall = defineFormula({
  id: 'thin-cylinder-wall',
  title: 'Wall of a thin cylinder',
  inputs: {
    pressure: { quantity: 'pressure', range: [0, 1e8], help: 'p, pressure above the surroundings (gauge)' },
    bore: { quantity: 'length', range: [1e-3, 5], help: 'D_i, inside diameter' },
    allowableStress: { quantity: 'stress', range: [1e5, 2e9], help: 'allowable stress' },
  },
  output: { quantity: 'length', help: 't = p D_i / (2 sigma)' },
  source: { document: 'thin-cylinder theory, any strength-of-materials text', trust: 'memory' },
  examples: [
    {
      inputs: { pressure: 20e6, bore: 251.5398e-3, allowableStress: 156e6 },
      expected: 16.124346e-3,
      tolerance: 1e-5,
      source: { document: 'Bhandari, machine design textbook, example 22.1', clause: 'vector 6.1', trust: 'excerpt' },
    },
  ],
  compute({ pressure, bore, allowableStress }) {
    return (pressure * bore) / (2 * allowableStress);
  },
});
