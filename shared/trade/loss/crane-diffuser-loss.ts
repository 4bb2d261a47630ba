import { defineFormula } from '../formula.ts';

/** Loss coefficient of a conical diffuser on the upstream rho u^2/2 by Crane. */
export const craneDiffuserLoss = defineFormula({
  id: 'crane-diffuser-loss',
  title: 'Loss of a diffuser, Crane',
  inputs: {
    angle: { quantity: 'angle', range: [0, Math.PI / 4], help: 'alpha, TOTAL angle of the cone' },
    areaRatio: { quantity: 'ratio', range: [0, 1], help: 'A1/A2, smaller area over larger area' },
  },
  output: { quantity: 'ratio', help: 'K = 2.6 sin(alpha/2) (1 - A1/A2)^2' },
  source: { document: 'Crane TP-410', trust: 'excerpt', note: 'read in an open fluid mechanics library (fluids, MIT)' },
  examples: [
    {
      inputs: { angle: Math.PI / 6, areaRatio: 0.5 },
      expected: 2.6 * Math.sin(Math.PI / 12) * 0.25,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '30 degrees, area ratio 0.5: 0.168', trust: 'own' },
    },
  ],
  compute({ angle, areaRatio }) {
    return 2.6 * Math.sin(angle / 2) * (1 - areaRatio) ** 2;
  },
});
