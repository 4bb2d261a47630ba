import { defineFormula } from '../formula.ts';

/** Bow of a flange between two studs under an even gasket load, m. */
export const flangeBow = defineFormula({
  id: 'flange-bow',
  title: 'Flange bow between studs',
  inputs: {
    load: { quantity: 'force', range: [0, 1e6], help: 'F, gasket force between the two studs' },
    pitch: { quantity: 'length', range: [5e-3, 1], help: 'L, distance between the studs' },
    width: { quantity: 'length', range: [5e-3, 0.5], help: 'b, flange width' },
    thickness: { quantity: 'length', range: [1e-3, 0.1], help: 'h, flange thickness' },
    modulus: { quantity: 'stress', range: [1e9, 3e11], help: 'E, modulus of the flange when hot' },
    endFactor: {
      quantity: 'ratio',
      range: [1, 5],
      help: '1 when the studs hold the slope, 5 when they do not',
      fallback: 5,
    },
  },
  output: { quantity: 'length', help: 'bow = factor F L^3 / (384 E I), I = b h^3 / 12' },
  source: { document: 'beam theory, any strength-of-materials text', trust: 'memory' },
  examples: [
    {
      inputs: { load: 15e3, pitch: 90e-3, width: 50e-3, thickness: 8e-3, modulus: 165e9, endFactor: 1 },
      expected: 0.081e-3,
      tolerance: 5e-3,
      source: { document: 'own arithmetic', clause: '8 mm flange, fixed ends', trust: 'own' },
    },
    {
      inputs: { load: 15e3, pitch: 90e-3, width: 50e-3, thickness: 10e-3, modulus: 165e9, endFactor: 1 },
      expected: 0.041e-3,
      tolerance: 2e-2,
      source: { document: 'own arithmetic', clause: '10 mm flange, fixed ends', trust: 'own' },
    },
  ],
  compute({ load, pitch, width, thickness, modulus, endFactor }) {
    return (endFactor * load * pitch ** 3) / (32 * modulus * width * thickness ** 3);
  },
});
