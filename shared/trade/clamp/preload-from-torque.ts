import { defineFormula } from '../formula.ts';

/** Preload a tightening torque gives, N. The nut factor carries all the uncertainty: +-25 to 35 % is usual. */
export const preloadFromTorque = defineFormula({
  id: 'preload-from-torque',
  title: 'Preload from torque',
  inputs: {
    torque: { quantity: 'torque', range: [0, 2000], help: 'T, tightening torque' },
    nutFactor: {
      quantity: 'ratio',
      range: [0.05, 0.6],
      help: 'K, nut factor; 0.13 to 0.18 lubricated, 0.2 to 0.25 dry',
    },
    diameter: { quantity: 'length', range: [1e-3, 0.1], help: 'd, nominal thread diameter' },
  },
  output: { quantity: 'force', help: 'F = T / (K d)' },
  source: { document: 'SAND2008-0371, appendix C', clause: 'T = K F d', trust: 'excerpt' },
  examples: [
    {
      inputs: { torque: 1800 * 0.1129848290276167, nutFactor: 0.2, diameter: 0.625 * 0.0254 },
      expected: 14400 * 4.4482216152605,
      tolerance: 1e-4,
      source: { document: 'SAND2008-0371, appendix C', clause: 'vector 2.26: 1800 lbf.in, 5/8 in', trust: 'excerpt' },
    },
  ],
  compute({ torque, nutFactor, diameter }) {
    return torque / (nutFactor * diameter);
  },
});
