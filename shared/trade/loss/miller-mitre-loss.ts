import { millerMitreSource, millerMitres } from '../data/mitre-charts.ts';
import { defineFormula } from '../formula.ts';
import { interpolate } from '../interpolation.ts';

/** Loss coefficient of a single mitre on rho u^2/2 at Re 1e6, read from the chart of Miller. */
export const millerMitreLoss = defineFormula({
  id: 'miller-mitre-loss',
  title: 'Loss coefficient of a single mitre, Miller',
  inputs: {
    angle: { quantity: 'angle', range: [5 * (Math.PI / 180), Math.PI / 2], help: 'deflection of the joint' },
  },
  output: { quantity: 'ratio', help: 'K at Re = 1e6' },
  source: millerMitreSource,
  examples: [{ inputs: { angle: Math.PI / 6 }, expected: 0.118, tolerance: 1e-9, source: millerMitreSource }],
  compute({ angle }) {
    return interpolate(millerMitres, angle) ?? Number.NaN;
  },
});
