import { defineFormula } from '../formula.ts';

/** Loss coefficient of a sudden expansion on the upstream rho u^2/2. */
export const suddenExpansionLoss = defineFormula({
  id: 'sudden-expansion-loss',
  title: 'Loss of a sudden expansion',
  inputs: {
    areaRatio: { quantity: 'ratio', range: [0, 1], help: 'A1/A2, smaller area over larger area' },
  },
  output: { quantity: 'ratio', help: 'K = (1 - A1/A2)^2' },
  source: {
    document: 'Borda-Carnot, every fluid mechanics text',
    trust: 'memory',
    note: 'value checked in an open fluid mechanics library (fluids, MIT)',
  },
  examples: [
    {
      inputs: { areaRatio: 0.25 },
      expected: 0.5625,
      tolerance: 1e-9,
      source: {
        document: 'documentation of an open fluid mechanics library (fluids, MIT)',
        clause: 'diameter 0.5 to 1',
        trust: 'excerpt',
      },
    },
  ],
  compute({ areaRatio }) {
    return (1 - areaRatio) ** 2;
  },
});
