import { bendChartSource, bendReynolds, bendReynoldsChart } from '../data/bend-chart.ts';
import { defineFormula } from '../formula.ts';
import { type Curve, interpolateChart, type Point } from '../interpolation.ts';

const chart: readonly Curve[] = bendReynoldsChart.map(({ radiusRatio, factors }) => [
  radiusRatio,
  factors.map((factor, i): Point => [Math.log10(bendReynolds[i] ?? Number.NaN), factor]),
]);

/**
 * Multiplier on the loss coefficient of a smooth bend below Re = 1e6, dimensionless; linear in log Re and in r/D.
 * Below r/D 1 the curve for 1 holds, above 2 the curve for 2 (both as the chart prescribes).
 */
export const bendReynoldsCorrection = defineFormula({
  id: 'bend-reynolds-correction',
  title: 'Reynolds correction of a bend loss',
  inputs: {
    reynolds: { quantity: 'ratio', range: [1e4, 1e6], help: 'Re, Reynolds number in the bore' },
    radiusRatio: { quantity: 'ratio', range: [0.75, 5], help: 'r/D, centreline radius over INSIDE diameter' },
  },
  output: { quantity: 'ratio', help: 'C_Re, multiplies K_b' },
  source: bendChartSource,
  examples: [
    {
      inputs: { reynolds: 1e5, radiusRatio: 1.5 },
      expected: 1.4,
      tolerance: 1e-9,
      source: bendChartSource,
    },
    {
      inputs: { reynolds: 56444, radiusRatio: 66.75 / 40.9 },
      expected: 1.579,
      tolerance: 0.02,
      source: { document: 'own reading of the same chart', clause: 'example E-19', trust: 'own' },
    },
  ],
  compute({ reynolds, radiusRatio }) {
    const ratio = Math.min(Math.max(radiusRatio, 1), 2);
    return interpolateChart(chart, Math.log10(reynolds), ratio) ?? Number.NaN;
  },
});
