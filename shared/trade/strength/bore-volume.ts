import { defineFormula } from '../formula.ts';

/** Volume inside a straight round bore, m3. */
export const boreVolume = defineFormula({
  id: 'bore-volume',
  title: 'Volume of a straight bore',
  inputs: {
    bore: { quantity: 'length', range: [1e-3, 5], help: 'inside diameter' },
    length: { quantity: 'length', range: [0, 10], help: 'L, length' },
  },
  output: { quantity: 'volume', help: 'V = pi/4 d^2 L' },
  source: { document: 'geometry', trust: 'own' },
  examples: [
    {
      inputs: { bore: 42e-3, length: 0.6 },
      expected: 0.831265e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-15g: ID 42, 600 mm', trust: 'own' },
    },
  ],
  compute({ bore, length }) {
    return (Math.PI / 4) * bore ** 2 * length;
  },
});
