import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { currentWindow } from './current-window.ts';

/** Low end of the starting current of a closed butt of stainless or 625, A; the thumb rule is the top of the pedal. */
export const startCurrent = defineFormula({
  id: 'start-current',
  title: 'Current to start a butt with',
  inputs: {
    wall: { quantity: 'length', range: [3e-4, 6e-3], help: 't' },
  },
  output: { quantity: 'current', help: 'I = 0.65 t / 0.0254 mm' },
  source: { document: 'own, from a published thin-sheet table', trust: 'own' },
  examples: [
    {
      inputs: { wall: 0.00165 },
      expected: 42.224409448818896,
      tolerance: 1e-6,
      source: { document: 'own arithmetic', clause: '1.65 mm wall', trust: 'own' },
    },
  ],
  compute: ({ wall }) => derive({ window: currentWindow(wall) }, ({ window }) => window.low),
});
