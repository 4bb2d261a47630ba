import { defineFormula } from '../formula.ts';
import { radiantFlux } from './radiation.ts';

/** Net heat a grey surface radiates to large surroundings, W/m2; negative when it is the colder one. */
export const greyBodyFlux = defineFormula({
  id: 'grey-body-flux',
  title: 'Net heat radiated by a grey body',
  inputs: {
    emissivity: { quantity: 'ratio', range: [0, 1], help: 'e, grey' },
    surface: { quantity: 'temperature', range: [1, 3000], help: 'T, of the body' },
    surroundings: { quantity: 'temperature', range: [1, 3000], help: 'T_s' },
  },
  output: { quantity: 'heatFlux', help: 'q = e sigma (T^4 - T_s^4)' },
  source: { document: 'fourth-power law of the black body', trust: 'memory' },
  examples: [
    {
      inputs: { emissivity: 0.85, surface: 1000, surroundings: 400 },
      expected: 46964.3090879256,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: 'e 0.85 at 1000 K to 400 K', trust: 'own' },
    },
  ],
  compute: ({ emissivity, surface, surroundings }) => radiantFlux(emissivity, surface, surroundings),
});
