import { defineFormula } from '../formula.ts';
import { tungstenFor } from './current-window.ts';

/** Thinnest tungsten that carries a current on electrode negative, m. */
export const tungstenDiameter = defineFormula({
  id: 'tungsten-diameter',
  title: 'Thinnest tungsten for a current',
  inputs: {
    current: { quantity: 'current', range: [5, 180], help: 'I' },
  },
  output: { quantity: 'length', help: 'd, next size up' },
  source: { document: 'welding supplier reference chart', trust: 'excerpt' },
  examples: [
    {
      inputs: { current: 100 },
      expected: 0.0016,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '100 A: 1.6 mm', trust: 'own' },
    },
  ],
  compute: ({ current }) => tungstenFor(current),
});
