import { defineFormula } from '../formula.ts';
import { embeddingLoss as lossOfPreload } from './joint-change.ts';

/** Preload lost when a joint settles, N. */
export const embeddingLoss = defineFormula({
  id: 'embedding-loss',
  title: 'Preload lost to settling',
  inputs: {
    depth: { quantity: 'length', range: [0, 1e-4], help: 'f_Z, all faces and the thread together' },
    stud: { quantity: 'compliance', range: [1e-12, 1e-6], help: 'delta_S, of the stud' },
    parts: { quantity: 'compliance', range: [1e-12, 1e-6], help: 'delta_P, of the clamped parts' },
  },
  output: { quantity: 'force', help: 'F_Z = f_Z / (delta_S + delta_P)' },
  source: { document: 'VDI 2230', clause: 'loss of preload by embedding', trust: 'memory' },
  examples: [
    {
      inputs: { depth: 8e-6, stud: 5e-9, parts: 1e-9 },
      expected: 1333.3333333,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '8 um over 6 um/kN', trust: 'own' },
    },
  ],
  compute: ({ depth, ...joint }) => lossOfPreload(depth, joint),
});
