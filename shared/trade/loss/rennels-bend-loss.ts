import { defineFormula } from '../formula.ts';

/** Loss coefficient of a smooth bend on rho u^2/2 by Rennels, bend friction included. */
export const rennelsBendLoss = defineFormula({
  id: 'rennels-bend-loss',
  title: 'Loss coefficient of a bend, Rennels',
  inputs: {
    radiusRatio: { quantity: 'ratio', range: [0.5, 50], help: 'r/D, centreline radius over INSIDE diameter' },
    angle: { quantity: 'angle', range: [0, Math.PI], help: 'alpha, deflection of the bend' },
    frictionFactor: { quantity: 'ratio', range: [0.005, 0.1], help: 'f, Darcy friction factor in the bore' },
  },
  output: {
    quantity: 'ratio',
    help: 'K = f alpha r/D + (0.10 + 2.4 f) sin(alpha/2) + 6.6 f (sqrt(sin(alpha/2)) + sin(alpha/2)) / (r/D)^(4 alpha/pi)',
  },
  source: {
    document: 'Rennels and Hudson, Pipe Flow 2012',
    trust: 'excerpt',
    note: 'read in an open fluid mechanics library (fluids, MIT)',
  },
  examples: [
    {
      inputs: { radiusRatio: 20 / 4.02, angle: Math.PI / 6, frictionFactor: 0.01799 },
      expected: 0.115191,
      tolerance: 1e-3,
      source: {
        document: 'documentation of an open fluid mechanics library (fluids, MIT)',
        clause: 'D 4.020, r 20, 30 degrees, Re 1e5, smooth',
        trust: 'excerpt',
      },
    },
  ],
  compute({ radiusRatio, angle, frictionFactor: f }) {
    const half = Math.sin(angle / 2);
    const secondary = (6.6 * f * (Math.sqrt(half) + half)) / radiusRatio ** ((4 * angle) / Math.PI);
    return f * angle * radiusRatio + (0.1 + 2.4 * f) * half + secondary;
  },
});
