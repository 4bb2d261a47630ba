import { derive } from '../../units/known.ts';
import { craneMitreFactors, craneMitreSource } from '../data/crane.ts';
import { defineFormula } from '../formula.ts';
import { interpolate } from '../interpolation.ts';
import { craneFrictionFactor } from './crane-friction-factor.ts';

/** Loss coefficient of a single mitre on rho u^2/2 by Crane. */
export const craneMitreLoss = defineFormula({
  id: 'crane-mitre-loss',
  title: 'Loss coefficient of a single mitre, Crane',
  inputs: {
    angle: { quantity: 'angle', range: [0, Math.PI / 2], help: 'deflection of the joint' },
    bore: { quantity: 'length', range: [0.01, 1], help: 'D, inside diameter' },
  },
  output: { quantity: 'ratio', help: 'K = n f_T' },
  source: craneMitreSource,
  examples: [
    {
      inputs: { angle: Math.PI / 4, bore: 40.9e-3 },
      expected: 15 * 0.0202,
      tolerance: 3e-3,
      source: { document: 'own arithmetic', clause: '45 degrees: 15 f_T, f_T 0.0202', trust: 'own' },
    },
  ],
  compute({ angle, bore }) {
    return derive(
      { friction: craneFrictionFactor.evaluate({ bore }) },
      ({ friction }) => (interpolate(craneMitreFactors, angle) ?? Number.NaN) * friction,
    );
  },
});
