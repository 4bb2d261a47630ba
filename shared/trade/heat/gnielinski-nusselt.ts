import { defineFormula } from '../formula.ts';

/** Nusselt number of turbulent flow in a smooth or rough bore, dimensionless, steady and fully developed. */
export const gnielinskiNusselt = defineFormula({
  id: 'gnielinski-nusselt',
  title: 'Convection inside a bore, Gnielinski',
  inputs: {
    reynolds: { quantity: 'ratio', range: [2300, 5e6], help: 'Re, Reynolds number' },
    prandtl: { quantity: 'ratio', range: [0.5, 2000], help: 'Pr' },
    frictionFactor: { quantity: 'ratio', range: [0.005, 0.1], help: 'f, Darcy friction factor' },
  },
  output: { quantity: 'ratio', help: 'Nu = (f/8)(Re - 1000) Pr / (1 + 12.7 sqrt(f/8) (Pr^(2/3) - 1))' },
  source: { document: 'Gnielinski 1976', trust: 'excerpt', note: 'read in an open heat transfer library (ht, MIT)' },
  examples: [
    {
      inputs: { reynolds: 1e5, prandtl: 1.2, frictionFactor: 0.0185 },
      expected: 254.6268,
      tolerance: 1e-5,
      source: {
        document: 'documentation of an open heat transfer library (ht, MIT)',
        clause: 'example E-25',
        trust: 'excerpt',
      },
    },
  ],
  compute({ reynolds, prandtl, frictionFactor }) {
    const shear = frictionFactor / 8;
    return (shear * (reynolds - 1000) * prandtl) / (1 + 12.7 * Math.sqrt(shear) * (prandtl ** (2 / 3) - 1));
  },
});
