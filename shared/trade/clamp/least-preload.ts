import { defineFormula } from '../formula.ts';

/** Least preload after tightening with scatter, N. */
export const leastPreload = defineFormula({
  id: 'least-preload',
  title: 'Least preload from the tightening factor',
  inputs: {
    greatestPreload: { quantity: 'force', range: [0, 1e6], help: 'F_max, preload of the tightest stud' },
    tighteningFactor: { quantity: 'ratio', range: [1, 4], help: 'alpha_A, greatest over least preload' },
  },
  output: { quantity: 'force', help: 'F_min = F_max / alpha_A' },
  source: { document: 'VDI 2230 sheet 1', clause: 'table A8', trust: 'memory' },
  examples: [
    {
      inputs: { greatestPreload: 41.9e3, tighteningFactor: 1.8 },
      expected: 23.3e3,
      tolerance: 2e-3,
      source: { document: 'VDI 2230 sheet 1, coarse-thread page', clause: 'M12: 41.9 / 1.8', trust: 'excerpt' },
    },
  ],
  compute({ greatestPreload, tighteningFactor }) {
    return greatestPreload / tighteningFactor;
  },
});
