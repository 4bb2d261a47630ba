import { defineFormula } from '../formula.ts';
import { metricThread, threadFault } from './metric-thread.ts';

/** Nominal stress area of an ISO metric thread, m2. */
export const stressArea = defineFormula({
  id: 'stress-area',
  title: 'Stress area of a metric thread',
  inputs: {
    diameter: { quantity: 'length', range: [1e-3, 0.1], help: 'd, nominal diameter' },
    pitch: { quantity: 'length', range: [1e-4, 1e-2], help: 'P, pitch' },
  },
  output: { quantity: 'area', help: 'As = pi/4 ((d2 + d3) / 2)^2, d2 = d - 0.649519 P, d3 = d - 1.226869 P' },
  source: { document: 'ISO 898-1 with ISO 724', trust: 'memory' },
  examples: [
    {
      inputs: { diameter: 8e-3, pitch: 1.25e-3 },
      expected: 36.6e-6,
      tolerance: 3e-3,
      source: { document: 'ISO 898-1, table of stress areas', clause: 'vector 2.2: M8', trust: 'excerpt' },
    },
  ],
  compute({ diameter, pitch }) {
    const { pitchDiameter, rootDiameter } = metricThread(diameter, pitch);
    const fault = threadFault('stress-area', diameter, pitch);
    if (fault) return fault;
    return (Math.PI / 4) * ((pitchDiameter + rootDiameter) / 2) ** 2;
  },
});
