import { defineFormula } from '../formula.ts';

/** Nusselt number of natural convection from a long horizontal cylinder, dimensionless, all properties at the film temperature. */
export const churchillChuNusselt = defineFormula({
  id: 'churchill-chu-nusselt',
  title: 'Natural convection from a horizontal cylinder',
  inputs: {
    rayleigh: { quantity: 'ratio', range: [1e-5, 1e12], help: 'Ra on the diameter' },
    prandtl: { quantity: 'ratio', range: [0.01, 1000], help: 'Pr' },
  },
  output: { quantity: 'ratio', help: 'Nu = (0.60 + 0.387 Ra^(1/6) / (1 + (0.559/Pr)^(9/16))^(8/27))^2' },
  source: {
    document: 'Churchill and Chu 1975',
    trust: 'excerpt',
    note: 'read in an open heat transfer library (ht, MIT)',
  },
  examples: [
    {
      inputs: { rayleigh: 0.69 * 2.63e9, prandtl: 0.69 },
      expected: 139.1349,
      tolerance: 1e-4,
      source: {
        document: 'Incropera, example 9.2, as in an open heat transfer library (ht, MIT)',
        clause: 'example E-22: Pr 0.69, Gr 2.63e9',
        trust: 'excerpt',
      },
    },
  ],
  compute({ rayleigh, prandtl }) {
    return (0.6 + (0.387 * rayleigh ** (1 / 6)) / (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)) ** 2;
  },
});
