import { defineFormula } from '../formula.ts';

/** Tightening torque for a wanted preload, N.m. */
export const torqueForPreload = defineFormula({
  id: 'torque-for-preload',
  title: 'Torque for a preload',
  inputs: {
    preload: { quantity: 'force', range: [0, 1e6], help: 'F, wanted preload' },
    nutFactor: {
      quantity: 'ratio',
      range: [0.05, 0.6],
      help: 'K, nut factor; 0.13 to 0.18 lubricated, 0.2 to 0.25 dry',
    },
    diameter: { quantity: 'length', range: [1e-3, 0.1], help: 'd, nominal thread diameter' },
  },
  output: { quantity: 'torque', help: 'T = K F d' },
  source: { document: 'SAND2008-0371, appendix C', clause: 'T = K F d', trust: 'excerpt' },
  examples: [
    {
      inputs: { preload: 22800, nutFactor: 0.15, diameter: 8e-3 },
      expected: 27.36,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector 2.24: M8 class 10.9 at 75 % of proof load', trust: 'own' },
    },
  ],
  compute({ preload, nutFactor, diameter }) {
    return nutFactor * preload * diameter;
  },
});
