import { defineFormula } from '../formula.ts';

/** Nusselt number of turbulent flow in a smooth bore, dimensionless, at least ten diameters from the inlet. */
export const dittusBoelterNusselt = defineFormula({
  id: 'dittus-boelter-nusselt',
  title: 'Convection inside a bore, Dittus-Boelter',
  inputs: {
    reynolds: { quantity: 'ratio', range: [1e4, 1e7], help: 'Re, Reynolds number' },
    prandtl: { quantity: 'ratio', range: [0.6, 160], help: 'Pr' },
    exponent: {
      quantity: 'ratio',
      range: [0.3, 0.4],
      help: 'n, 0.3 when the fluid is cooled (exhaust), 0.4 when it is heated',
      fallback: 0.3,
    },
  },
  output: { quantity: 'ratio', help: 'Nu = 0.023 Re^0.8 Pr^n' },
  source: {
    document: 'Dittus and Boelter, as in Incropera 6th ed.',
    trust: 'excerpt',
    note: 'read in an open heat transfer library (ht, MIT)',
  },
  examples: [
    {
      inputs: { reynolds: 1e5, prandtl: 1.2, exponent: 0.4 },
      expected: 247.4004,
      tolerance: 1e-5,
      source: {
        document: 'documentation of an open heat transfer library (ht, MIT)',
        clause: 'example E-25, heating',
        trust: 'excerpt',
      },
    },
    {
      inputs: { reynolds: 1e5, prandtl: 1.2, exponent: 0.3 },
      expected: 242.9306,
      tolerance: 1e-5,
      source: {
        document: 'documentation of an open heat transfer library (ht, MIT)',
        clause: 'example E-25, cooling',
        trust: 'excerpt',
      },
    },
  ],
  compute({ reynolds, prandtl, exponent }) {
    return 0.023 * reynolds ** 0.8 * prandtl ** exponent;
  },
});
