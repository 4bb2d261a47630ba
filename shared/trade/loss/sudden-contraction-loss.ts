import { defineFormula } from '../formula.ts';

/** Loss coefficient of a sharp-edged sudden contraction on the downstream rho u^2/2. */
export const suddenContractionLoss = defineFormula({
  id: 'sudden-contraction-loss',
  title: 'Loss of a sudden contraction',
  inputs: {
    areaRatio: { quantity: 'ratio', range: [0, 1], help: 'A2/A1, smaller area over larger area' },
  },
  output: { quantity: 'ratio', help: 'K = 0.5 (1 - A2/A1)' },
  source: { document: 'sharp-edged contraction, every fluid mechanics text', trust: 'memory' },
  examples: [
    {
      inputs: { areaRatio: 0 },
      expected: 0.5,
      tolerance: 1e-9,
      source: { document: 'sharp pipe entrance from a large vessel', trust: 'memory' },
    },
  ],
  compute({ areaRatio }) {
    return 0.5 * (1 - areaRatio);
  },
});
