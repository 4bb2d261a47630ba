import { defineFormula } from '../formula.ts';

/** Oxygen left in a well-mixed volume after some volume changes. */
export const residualOxygen = defineFormula({
  id: 'residual-oxygen',
  title: 'Oxygen left after purging',
  inputs: {
    volumeChanges: { quantity: 'ratio', range: [0, 50], help: 'n, gas supplied over the volume' },
    initial: { quantity: 'concentration', range: [0, 0.25], help: 'C_0, oxygen at the start', fallback: 0.209 },
    residual: { quantity: 'concentration', range: [0, 0.01], help: 'C_s, oxygen in the gas', fallback: 1e-5 },
  },
  output: { quantity: 'concentration', help: 'C = C_s + (C_0 - C_s) exp(-n)' },
  source: { document: 'well-mixed dilution balance (stirred tank)', trust: 'memory' },
  examples: [
    {
      inputs: { volumeChanges: 5, initial: 0.209, residual: 0 },
      expected: 1408.23e-6,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-15f', trust: 'own' },
    },
    {
      inputs: { volumeChanges: 10, initial: 0.209, residual: 0 },
      expected: 9.48859e-6,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-15f', trust: 'own' },
    },
  ],
  compute({ volumeChanges, initial, residual }) {
    return residual + (initial - residual) * Math.exp(-volumeChanges);
  },
});
