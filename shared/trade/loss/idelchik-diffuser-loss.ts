import { diffuserAngles, diffuserSource, diffuserTable } from '../data/diffuser-table.ts';
import { defineFormula } from '../formula.ts';
import { type Curve, interpolateChart, type Point } from '../interpolation.ts';

const degree = Math.PI / 180;
const chart: readonly Curve[] = diffuserTable.map(({ areaRatio, losses }) => [
  areaRatio,
  losses.map((loss, i): Point => [(diffuserAngles[i] ?? Number.NaN) * degree, loss]),
]);

/** Loss coefficient of a conical diffuser on the upstream rho u^2/2 by Idelchik; bilinear in the table. */
export const idelchikDiffuserLoss = defineFormula({
  id: 'idelchik-diffuser-loss',
  title: 'Loss of a diffuser, Idelchik',
  inputs: {
    angle: { quantity: 'angle', range: [3 * (Math.PI / 180), Math.PI], help: 'alpha, TOTAL angle of the cone' },
    areaRatio: { quantity: 'ratio', range: [0.2, 0.6], help: 'A1/A2, smaller area over larger area' },
  },
  output: { quantity: 'ratio', help: 'K on the upstream head' },
  source: diffuserSource,
  examples: [
    {
      inputs: { angle: (10 * Math.PI) / 180, areaRatio: 0.4 },
      expected: 0.06,
      tolerance: 1e-9,
      source: diffuserSource,
    },
  ],
  compute({ angle, areaRatio }) {
    return interpolateChart(chart, angle, areaRatio) ?? Number.NaN;
  },
});
