import { idelchikMitreSource, idelchikMitres } from '../data/mitre-charts.ts';
import { defineFormula } from '../formula.ts';
import { interpolate } from '../interpolation.ts';

/** Loss coefficient of a single mitre on rho u^2/2 after Idelchik and Blevins, corrected for Reynolds number. */
export const idelchikMitreLoss = defineFormula({
  id: 'idelchik-mitre-loss',
  title: 'Loss coefficient of a single mitre, Idelchik',
  inputs: {
    angle: { quantity: 'angle', range: [10 * (Math.PI / 180), 120 * (Math.PI / 180)], help: 'deflection of the joint' },
    reynolds: { quantity: 'ratio', range: [2e4, 1e6], help: 'Re, Reynolds number in the bore' },
  },
  output: { quantity: 'ratio', help: 'K = K(2e5) (2e5/Re)^0.2' },
  source: idelchikMitreSource,
  examples: [
    { inputs: { angle: Math.PI / 6, reynolds: 2e5 }, expected: 0.1, tolerance: 1e-9, source: idelchikMitreSource },
  ],
  compute({ angle, reynolds }) {
    return (interpolate(idelchikMitres, angle) ?? Number.NaN) * (2e5 / reynolds) ** 0.2;
  },
});
