import { defineFormula } from '../formula.ts';

/** Equilibrium constant of the water-gas reaction, dimensionless, (H2O CO)/(CO2 H2). */
export const waterGasConstant = defineFormula({
  id: 'water-gas-constant',
  title: 'Water-gas constant',
  inputs: {
    temperature: {
      quantity: 'temperature',
      range: [400, 3200],
      help: 'T, temperature at which the composition freezes',
    },
  },
  output: { quantity: 'ratio', help: 'ln K = 2.743 - 1.761/t - 1.611/t^2 + 0.2803/t^3, t = T/1000 K' },
  source: {
    document: 'Heywood, Internal Combustion Engine Fundamentals',
    clause: 'fit of Olikara and Borman',
    trust: 'memory',
  },
  examples: [
    {
      inputs: { temperature: 1740 },
      expected: 3.4975,
      tolerance: 1e-3,
      source: {
        document: 'Heywood, Internal Combustion Engine Fundamentals',
        clause: 'example E-10: K at 1740 K, frozen as 3.5',
        trust: 'memory',
      },
    },
  ],
  compute({ temperature }) {
    const t = temperature / 1000;
    return Math.exp(2.743 - 1.761 / t - 1.611 / t ** 2 + 0.2803 / t ** 3);
  },
});
