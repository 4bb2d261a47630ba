import { defineFormula } from '../formula.ts';

/** Steady stress over the rupture stress the metal may be trusted with; above 1 it ruptures before the life asked for. Only the steady part counts. */
export const ruptureUtilisation = defineFormula({
  id: 'rupture-utilisation',
  title: 'Share of the rupture stress that is used',
  inputs: {
    stress: {
      quantity: 'stress',
      range: [0, 2e9],
      help: 'sigma, steady stress (weight, pressure, restraint), not the alternating part',
    },
    ruptureStress: {
      quantity: 'stress',
      range: [1e5, 2e9],
      help: 'sigma_R, rupture stress at the temperature and life',
    },
    trustedShare: {
      quantity: 'share',
      range: [0.1, 1],
      help: 'share of the wrought figure that is trusted; printed 625 at most 0.8',
      fallback: 1,
    },
  },
  output: { quantity: 'ratio', help: 'utilisation = sigma / (trusted share sigma_R)' },
  source: {
    document: 'own: ratio against published rupture stress',
    trust: 'own',
    note: '0.8 for printed metal is common practice until a coupon is tested',
  },
  examples: [
    {
      inputs: { stress: 20e6, ruptureStress: 40e6, trustedShare: 0.8 },
      expected: 0.625,
      tolerance: 1e-12,
      source: { document: 'own arithmetic', clause: '20 MPa on 0.8 times 40 MPa', trust: 'own' },
    },
  ],
  compute({ stress, ruptureStress, trustedShare }) {
    return stress / (trustedShare * ruptureStress);
  },
});
