import { defineFormula } from '../formula.ts';

/** Loss coefficient of a single mitre on rho u^2/2 by Rennels. */
export const rennelsMitreLoss = defineFormula({
  id: 'rennels-mitre-loss',
  title: 'Loss coefficient of a single mitre, Rennels',
  inputs: {
    angle: { quantity: 'angle', range: [0, (150 * Math.PI) / 180], help: 'alpha, deflection of the joint' },
  },
  output: { quantity: 'ratio', help: 'K = 0.42 sin(alpha/2) + 2.56 sin^3(alpha/2)' },
  source: {
    document: 'Rennels and Hudson, Pipe Flow 2012',
    trust: 'excerpt',
    note: 'read in an open fluid mechanics library (fluids, MIT)',
  },
  examples: [
    {
      inputs: { angle: Math.PI / 2 },
      expected: 0.42 * Math.SQRT1_2 + 2.56 * Math.SQRT1_2 ** 3,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '90 degrees: 1.202', trust: 'own' },
    },
  ],
  compute({ angle }) {
    const half = Math.sin(angle / 2);
    return 0.42 * half + 2.56 * half ** 3;
  },
});
