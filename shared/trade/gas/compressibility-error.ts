import { defineFormula } from '../formula.ts';

/** Error of taking the density as constant at its stagnation value, as a share: stagnation density over local density minus one. */
export const compressibilityError = defineFormula({
  id: 'compressibility-error',
  title: 'Error of constant density',
  inputs: {
    mach: { quantity: 'ratio', range: [0, 1], help: 'M, Mach number' },
    gamma: { quantity: 'ratio', range: [1.05, 1.67], help: 'gamma, ratio of specific heats' },
  },
  output: { quantity: 'share', help: 'rho0/rho - 1 = (1 + (gamma-1)/2 M^2)^(1/(gamma-1)) - 1' },
  source: { document: 'one-dimensional isentropic flow, any gas dynamics text', trust: 'memory' },
  examples: [
    {
      inputs: { mach: 0.3, gamma: 1.3 },
      expected: 0.046,
      tolerance: 0.01,
      source: { document: 'own arithmetic', clause: 'table for gamma 1.30: 4.6 % at Mach 0.3', trust: 'own' },
    },
  ],
  compute({ mach, gamma }) {
    // As a power less one, a slow flow would keep no digits.
    return Math.expm1(Math.log1p(((gamma - 1) / 2) * mach ** 2) / (gamma - 1));
  },
});
