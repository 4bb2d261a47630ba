import { defineFormula } from '../formula.ts';

/** Radiation that passes a single shield between two large parallel surfaces, as a share of what passes without it. */
export const shieldRatio = defineFormula({
  id: 'shield-ratio',
  title: 'Radiation past a single shield',
  inputs: {
    hot: { quantity: 'ratio', range: [0.01, 1], help: 'eps1, emissivity of the hot surface' },
    cold: { quantity: 'ratio', range: [0.01, 1], help: 'eps2, emissivity of the neighbour' },
    shield: { quantity: 'ratio', range: [0.01, 1], help: 'eps_s, emissivity of both faces of the shield' },
  },
  output: { quantity: 'share', help: '(1/e1 + 1/e2 - 1) / ((1/e1 + 1/es - 1) + (1/es + 1/e2 - 1))' },
  source: { document: 'grey parallel plates, any heat transfer text', trust: 'memory' },
  examples: [
    {
      inputs: { hot: 0.85, cold: 0.9, shield: 0.1 },
      expected: 0.0635,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'bright shield', trust: 'own' },
    },
    {
      inputs: { hot: 0.85, cold: 0.9, shield: 0.2 },
      expected: 0.125,
      tolerance: 0.01,
      source: { document: 'own arithmetic', clause: 'dirty shield', trust: 'own' },
    },
  ],
  compute({ hot, cold, shield }) {
    return (1 / hot + 1 / cold - 1) / (1 / hot + 2 / shield + 1 / cold - 2);
  },
});
