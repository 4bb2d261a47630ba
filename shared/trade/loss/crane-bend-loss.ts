import { derive } from '../../units/known.ts';
import { craneBendFactors, craneBendSource } from '../data/crane.ts';
import { defineFormula } from '../formula.ts';
import { interpolate } from '../interpolation.ts';
import { craneFrictionFactor } from './crane-friction-factor.ts';

/** Loss coefficient of a pipe bend on rho u^2/2 by Crane. */
export const craneBendLoss = defineFormula({
  id: 'crane-bend-loss',
  title: 'Loss coefficient of a bend, Crane',
  inputs: {
    radiusRatio: { quantity: 'ratio', range: [1, 20], help: 'r/D, centreline radius over INSIDE diameter' },
    angle: { quantity: 'angle', range: [0, Math.PI], help: 'deflection of the bend' },
    bore: { quantity: 'length', range: [0.01, 1], help: 'D, inside diameter' },
  },
  output: { quantity: 'ratio', help: 'K = (alpha/90 - 1) (0.25 pi f_T r/D + 0.5 K90) + K90, K90 = n f_T' },
  source: craneBendSource,
  examples: [
    {
      inputs: { radiusRatio: 1.5, angle: Math.PI / 2, bore: 40.9e-3 },
      expected: 14 * 0.0202,
      tolerance: 3e-3,
      source: { document: 'own arithmetic', clause: 'r/D 1.5: 14 f_T, f_T 0.0202', trust: 'own' },
    },
    {
      inputs: { radiusRatio: 2, angle: Math.PI, bore: 52.5e-3 },
      expected: (0.25 * Math.PI * 2 + 0.5 * 12 + 12) * 0.019,
      tolerance: 3e-3,
      source: { document: 'own arithmetic', clause: 'return bend, f_T 0.0190', trust: 'own' },
    },
  ],
  compute({ radiusRatio, angle, bore }) {
    return derive({ friction: craneFrictionFactor.evaluate({ bore }) }, ({ friction }) => {
      const right = (interpolate(craneBendFactors, radiusRatio) ?? Number.NaN) * friction;
      return (angle / (Math.PI / 2) - 1) * (0.25 * Math.PI * friction * radiusRatio + 0.5 * right) + right;
    });
  },
});
