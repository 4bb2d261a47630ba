import { unknown } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';

/** Out-of-round of a bent tube over its nominal diameter, dimensionless. */
export const bendOvality = defineFormula({
  id: 'bend-ovality',
  title: 'Ovality of a bend',
  inputs: {
    largest: { quantity: 'length', range: [1e-3, 1], help: 'largest outside diameter' },
    smallest: { quantity: 'length', range: [1e-3, 1], help: 'smallest outside diameter' },
    nominal: { quantity: 'length', range: [1e-3, 1], help: 'nominal outside diameter' },
  },
  output: { quantity: 'share', help: '(max - min) / nominal' },
  source: { document: 'ASME B31.3', clause: '332.2.1: at most 8 % inside pressure, 3 % outside', trust: 'memory' },
  examples: [
    {
      inputs: { largest: 46e-3, smallest: 43e-3, nominal: 44.5e-3 },
      expected: 3 / 44.5,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '3 mm out of round', trust: 'own' },
    },
  ],
  compute({ largest, smallest, nominal }) {
    if (largest < smallest) {
      const detail = `bend-ovality: expected the largest diameter at or above the smallest (${smallest}), got ${largest}`;
      return unknown({ reason: 'inconsistent', detail, paths: [] });
    }
    return (largest - smallest) / nominal;
  },
});
