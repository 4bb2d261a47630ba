import { defineFormula } from '../formula.ts';
import type { Source } from '../source.ts';

/** Where the factor comes from. */
export const sandGrainSource: Source = {
  document: 'Adams, Grant and Watson 2012',
  trust: 'uncertain',
  note: 'factor 5.863 good to +-50 %; no measured friction of printed 625 at tube scale was found',
};

/** Equivalent sand-grain roughness of a surface with a measured Ra, m; good to about half either way, so use it for printed surfaces only until a flow test. */
export const sandGrainRoughness = defineFormula({
  id: 'sand-grain-roughness',
  title: 'Sand-grain roughness from Ra',
  inputs: {
    meanRoughness: { quantity: 'length', range: [0, 1e-4], help: 'Ra, arithmetic mean roughness' },
  },
  output: { quantity: 'length', help: 'epsilon = 5.863 Ra' },
  source: sandGrainSource,
  examples: [
    {
      inputs: { meanRoughness: 10e-6 },
      expected: 59e-6,
      tolerance: 0.01,
      source: { document: 'own arithmetic', clause: 'Ra 10 um: 59 um', trust: 'own' },
    },
  ],
  compute({ meanRoughness }) {
    return 5.863 * meanRoughness;
  },
});
