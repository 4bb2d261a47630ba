import { defineFormula } from '../formula.ts';

/** Bolt force under an external load, N. Once the joint opens the bolt carries the whole load. */
export const boltWorkingLoad = defineFormula({
  id: 'bolt-working-load',
  title: 'Bolt force under load',
  inputs: {
    preload: { quantity: 'force', range: [0, 1e6], help: 'F_i, preload' },
    load: { quantity: 'force', range: [0, 1e6], help: 'P, external load' },
    loadShare: { quantity: 'share', range: [0, 1], help: 'C, see bolt-load-share' },
  },
  output: { quantity: 'force', help: 'F = max(P, F_i + C P)' },
  source: {
    document: 'joint of springs, any machine design textbook',
    trust: 'memory',
    note: 'Bhandari, example 7.16 leaves out that its joint opens, by 71 N: 9.93 kN printed, 10 kN true',
  },
  examples: [
    {
      inputs: { preload: 6000, load: 10000, loadShare: 0.492857 },
      expected: 10928.57,
      tolerance: 1e-6,
      source: { document: 'own arithmetic', clause: 'joint stays closed', trust: 'own' },
    },
    {
      inputs: { preload: 5000, load: 10000, loadShare: 0.492857 },
      expected: 10000,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: 'joint opens', trust: 'own' },
    },
  ],
  compute({ preload, load, loadShare }) {
    return Math.max(load, preload + loadShare * load);
  },
});
