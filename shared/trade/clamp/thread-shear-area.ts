import { defineFormula } from '../formula.ts';
import { metricThread, threadFault } from './metric-thread.ts';

/** Shear area of the internal thread per engaged length, m2/m, nominal sizes. */
export const threadShearArea = defineFormula({
  id: 'thread-shear-area',
  title: 'Internal thread shear area per length',
  inputs: {
    diameter: { quantity: 'length', range: [1e-3, 0.1], help: 'd, nominal thread diameter' },
    pitch: { quantity: 'length', range: [1e-4, 1e-2], help: 'P, pitch' },
  },
  output: { quantity: 'length', help: 'A / L = (pi / P) d (P/2 + 0.57735 (d - d2))' },
  source: { document: "Machinery's Handbook", clause: 'internal thread shear area', trust: 'memory' },
  examples: [
    {
      inputs: { diameter: 8e-3, pitch: 1.25e-3 },
      expected: 21.991143e-3,
      tolerance: 5e-3,
      source: { document: 'own arithmetic', clause: 'vector 2.28: M8, mm2/mm', trust: 'own' },
    },
  ],
  compute({ diameter, pitch }) {
    const fault = threadFault('thread-shear-area', diameter, pitch);
    if (fault) return fault;
    const { pitchDiameter } = metricThread(diameter, pitch);
    return (Math.PI / pitch) * diameter * (pitch / 2 + 0.57735 * (diameter - pitchDiameter));
  },
});
