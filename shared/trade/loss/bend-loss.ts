import { bendAngles, bendChart, bendChartSource } from '../data/bend-chart.ts';
import { defineFormula } from '../formula.ts';
import { type Curve, interpolateChart, type Point } from '../interpolation.ts';

const degree = Math.PI / 180;
const chart: readonly Curve[] = bendChart.map(({ radiusRatio, losses }) => [
  radiusRatio,
  losses.map((loss, i): Point => [(bendAngles[i] ?? Number.NaN) * degree, loss]),
]);

/** Loss coefficient of a smooth bend on rho u^2/2 at Re = 1e6, bend friction included; bilinear in the chart. */
export const bendLoss = defineFormula({
  id: 'bend-loss',
  title: 'Loss coefficient of a smooth bend',
  inputs: {
    radiusRatio: { quantity: 'ratio', range: [0.75, 5], help: 'r/D, centreline radius over INSIDE diameter' },
    angle: { quantity: 'angle', range: [0, Math.PI], help: 'deflection of the bend' },
  },
  output: { quantity: 'ratio', help: 'K_b on rho u^2/2' },
  source: bendChartSource,
  examples: [
    {
      inputs: { radiusRatio: 1.5, angle: Math.PI / 2 },
      expected: 0.184,
      tolerance: 1e-9,
      source: bendChartSource,
    },
    {
      inputs: { radiusRatio: 66.75 / 40.9, angle: Math.PI / 2 },
      expected: 0.1752,
      tolerance: 0.02,
      source: {
        document: 'own: spline through the same chart',
        clause: 'example E-19',
        trust: 'own',
        note: 'straight lines read 1.4 % higher than the spline',
      },
    },
  ],
  compute({ radiusRatio, angle }) {
    // Inside the declared ranges the chart always answers; NaN would be reported as not finite.
    return interpolateChart(chart, angle, radiusRatio) ?? Number.NaN;
  },
});
