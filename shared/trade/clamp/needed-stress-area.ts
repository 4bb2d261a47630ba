import { defineFormula } from '../formula.ts';

/** Section a stud needs for a load, m2. */
export const neededStressArea = defineFormula({
  id: 'needed-stress-area',
  title: 'Section needed for a load',
  inputs: {
    load: { quantity: 'force', range: [0, 1e6], help: 'F, bolt force' },
    yieldStrength: { quantity: 'stress', range: [1e7, 2e9], help: 'yield' },
    safetyFactor: { quantity: 'ratio', range: [1, 10], help: 'factor on yield' },
  },
  output: { quantity: 'area', help: 'A = F / (yield / factor)' },
  source: { document: 'definition', trust: 'memory' },
  examples: [
    {
      inputs: { load: 9928.571, yieldStrength: 380e6, safetyFactor: 2.5 },
      expected: 65.319549e-6,
      tolerance: 1e-4,
      source: { document: 'Bhandari, machine design textbook, example 7.16', clause: 'vector 2.27', trust: 'excerpt' },
    },
  ],
  compute({ load, yieldStrength, safetyFactor }) {
    return (load * safetyFactor) / yieldStrength;
  },
});
