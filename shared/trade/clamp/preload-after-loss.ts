import { defineFormula } from '../formula.ts';

/** Preload left after a share of it is lost to settling or relaxation, N. */
export const preloadAfterLoss = defineFormula({
  id: 'preload-after-loss',
  title: 'Preload left after relaxation',
  inputs: {
    preload: { quantity: 'force', range: [0, 1e6], help: 'F, preload before' },
    lostShare: { quantity: 'share', range: [0, 1], help: 'share lost' },
  },
  output: { quantity: 'force', help: 'F_left = F (1 - loss)' },
  source: { document: 'SAND2008-0371, appendix C', clause: '5 % loss', trust: 'excerpt' },
  examples: [
    {
      inputs: { preload: 9360 * 4.4482216152605, lostShare: 0.05 },
      expected: 8892 * 4.4482216152605,
      tolerance: 1e-6,
      source: { document: 'SAND2008-0371, appendix C', clause: 'vector 2.26: 8892 lbf', trust: 'excerpt' },
    },
  ],
  compute({ preload, lostShare }) {
    return preload * (1 - lostShare);
  },
});
