import { defineFormula } from '../formula.ts';

/** Mass-flow function of an ideal gas, dimensionless: the flow through an area for a given total state; greatest at Mach 1, where the area chokes. */
export const massFlowFunction = defineFormula({
  id: 'mass-flow-function',
  title: 'Mass-flow function',
  inputs: {
    mach: { quantity: 'ratio', range: [0, 1], help: 'M, Mach number' },
    gamma: { quantity: 'ratio', range: [1.05, 1.67], help: 'gamma, ratio of specific heats' },
  },
  output: {
    quantity: 'ratio',
    help: 'm sqrt(R T0) / (A p0) = sqrt(gamma) M (1 + (gamma-1)/2 M^2)^(-(gamma+1)/(2(gamma-1)))',
  },
  source: { document: 'one-dimensional isentropic flow, any gas dynamics text', trust: 'memory' },
  examples: [
    {
      inputs: { mach: 1, gamma: 1.3 },
      expected: 0.03918 * Math.sqrt(290),
      tolerance: 2e-4,
      source: {
        document: 'own arithmetic',
        clause: 'choked value for gamma 1.3, R 290 J/(kg.K): 0.03918 with R left in',
        trust: 'own',
      },
    },
    {
      inputs: { mach: 0.3, gamma: 1.3 },
      expected: 0.01908 * Math.sqrt(290),
      tolerance: 4e-4,
      source: { document: 'own arithmetic', clause: 'Mach 0.3, gamma 1.3, R 290 J/(kg.K): 0.01908', trust: 'own' },
    },
  ],
  compute({ mach, gamma }) {
    const exponent = -(gamma + 1) / (2 * (gamma - 1));
    return Math.sqrt(gamma) * mach * (1 + ((gamma - 1) / 2) * mach ** 2) ** exponent;
  },
});
