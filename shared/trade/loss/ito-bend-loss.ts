import { unknown } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { interpolate, type Point } from '../interpolation.ts';

/** Loss coefficient of a smooth bend on rho u^2/2 by Ito; angles between 45, 90 and 180 degrees by straight lines on the loss, so that more bend never loses less. */
export const itoBendLoss = defineFormula({
  id: 'ito-bend-loss',
  title: 'Loss coefficient of a bend, Ito',
  inputs: {
    reynolds: { quantity: 'ratio', range: [2e4, 1e6], help: 'Re, Reynolds number in the bore' },
    radiusRatio: { quantity: 'ratio', range: [1, 50], help: 'r/D, centreline radius over INSIDE diameter' },
    angle: { quantity: 'angle', range: [Math.PI / 4, Math.PI], help: 'deflection of the bend' },
  },
  output: {
    quantity: 'ratio',
    help: 'K = 0.00431 alpha phi Re^-0.17 (r/D)^0.84, alpha in degrees, for Re (D/r)^2 > 360',
  },
  source: {
    document: 'Ito 1960, as in Blevins 1984',
    trust: 'excerpt',
    note: 'read in an open fluid mechanics library (fluids, MIT)',
  },
  examples: [
    {
      inputs: { reynolds: 1e5, radiusRatio: 1.5, angle: Math.PI / 2 },
      expected: 0.227,
      tolerance: 5e-3,
      source: {
        document: 'own evaluation',
        clause: 'Re 1e5, r/D 1.5: 45 degrees 0.147, 90 0.227, 180 0.279',
        trust: 'own',
      },
    },
  ],
  compute({ reynolds, radiusRatio, angle }) {
    const dean = reynolds / radiusRatio ** 2;
    if (dean <= 360) {
      const range: readonly [number, number] = [360, Number.POSITIVE_INFINITY];
      return unknown({
        reason: 'outOfValidity',
        input: 'ito-bend-loss: Re (D/r)^2',
        value: dean,
        range,
        unit: 'ratio',
      });
    }
    const turn = interpolate(weightedAngles(radiusRatio), angle) ?? Number.NaN;
    return 0.00431 * turn * reynolds ** -0.17 * radiusRatio ** 0.84;
  },
});

/** Angle in degrees times its factor alpha, at 45, 90 and 180 degrees. */
function weightedAngles(radiusRatio: number): readonly Point[] {
  const right = radiusRatio < 9.85 ? 0.95 + 4.42 * radiusRatio ** -1.96 : 1;
  return [
    [Math.PI / 4, 45 * (1 + 5.13 * radiusRatio ** -1.47)],
    [Math.PI / 2, 90 * right],
    [Math.PI, 180 * (1 + 5.06 * radiusRatio ** -4.52)],
  ];
}
