import { defineFormula } from '../formula.ts';
import { weldStrengthFactor } from './pipe-wall.ts';

/** Strength of a weld over that of the pipe at metal temperature, dimensionless. */
export const weldStrengthReduction = defineFormula({
  id: 'weld-strength-reduction',
  title: 'Weld strength factor when hot',
  inputs: {
    temperature: { quantity: 'temperature', range: [273.15, 1089.15], help: 'T, metal' },
  },
  output: { quantity: 'ratio', help: 'W = 1 up to 510 C, in a straight line to 0.5 at 816 C' },
  source: { document: 'ASME B31.3', clause: '302.3.5(e)', trust: 'memory' },
  examples: [
    {
      inputs: { temperature: 936.15 },
      expected: 0.75,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '663 C, half way', trust: 'own' },
    },
  ],
  compute: ({ temperature }) => weldStrengthFactor(temperature),
});
