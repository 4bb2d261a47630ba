import { defineFormula } from '../formula.ts';
import { irradiation } from './radiation.ts';

/** Irradiation of a small neighbour of a hot body, W/m2. */
export const neighbourIrradiation = defineFormula({
  id: 'neighbour-irradiation',
  title: 'What shines on a neighbour',
  inputs: {
    viewFactor: { quantity: 'ratio', range: [0, 1], help: 'F, share of its sight the hot body fills' },
    emissivity: { quantity: 'ratio', range: [0, 1], help: 'e, of the hot body' },
    temperature: { quantity: 'temperature', range: [1, 3000], help: 'T, of the hot body' },
    ambient: { quantity: 'temperature', range: [1, 3000], help: 'T_a, of all else' },
    shieldRatio: { quantity: 'ratio', range: [0, 1], help: 's, share a shield lets through', fallback: 1 },
  },
  output: { quantity: 'heatFlux', help: 'G = F e s sigma T^4 + (1 - F e s) sigma T_a^4' },
  source: { document: 'own: grey bodies in large surroundings', trust: 'own' },
  examples: [
    {
      inputs: { viewFactor: 0.503968253968254, emissivity: 0.85, temperature: 973.15, ambient: 353.15, shieldRatio: 1 },
      expected: 22288.922344617702,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: 'pipe of 50.8 mm at 700 C, gap 25 mm, air 80 C', trust: 'own' },
    },
  ],
  compute: (sight) => irradiation(sight),
});
