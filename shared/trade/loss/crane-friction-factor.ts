import { defineFormula } from '../formula.ts';

/** Fully turbulent Darcy friction factor of commercial steel pipe, dimensionless: the f_T that Crane fitting losses are multiples of, whatever the pipe is made of. */
export const craneFrictionFactor = defineFormula({
  id: 'crane-friction-factor',
  title: 'Friction factor of Crane fittings',
  inputs: {
    bore: { quantity: 'length', range: [0.01, 1], help: 'D, inside diameter' },
  },
  output: { quantity: 'ratio', help: '1/sqrt(f_T) = 2 log10(3.7 D / 45.72 um)' },
  source: { document: 'Crane TP-410', clause: 'fully rough limit of Colebrook at 0.0018 in (own)', trust: 'memory' },
  examples: [
    {
      inputs: { bore: 40.9e-3 },
      expected: 0.0202,
      tolerance: 3e-3,
      source: { document: 'own arithmetic', clause: 'f_T table: bore 40.9 mm', trust: 'own' },
    },
  ],
  compute({ bore }) {
    return (2 * Math.log10((3.7 * bore) / (0.0018 * 0.0254))) ** -2;
  },
});
