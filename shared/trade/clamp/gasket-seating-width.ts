import { defineFormula } from '../formula.ts';
import { effectiveGasketWidth } from './gasket-loads.ts';

/** Effective seating width of a gasket of a basic width, m. */
export const gasketSeatingWidth = defineFormula({
  id: 'gasket-seating-width',
  title: 'Effective seating width',
  inputs: {
    basicWidth: { quantity: 'length', range: [0, 0.1], help: 'b0' },
  },
  output: { quantity: 'length', help: 'b = b0 up to 6 mm, then 2.5 sqrt(b0) in mm' },
  source: { document: 'ASME BPVC VIII-1 appendix 2', trust: 'memory' },
  examples: [
    {
      inputs: { basicWidth: 0.009 },
      expected: 0.0075,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '9 mm', trust: 'own' },
    },
  ],
  compute: ({ basicWidth }) => effectiveGasketWidth(basicWidth),
});
