import { defineFormula } from '../formula.ts';

/** Darcy friction factor of turbulent flow by Haaland, dimensionless; explicit, within about 2 % of Colebrook. */
export const haalandFrictionFactor = defineFormula({
  id: 'haaland-friction-factor',
  title: 'Darcy friction factor, Haaland',
  inputs: {
    reynolds: { quantity: 'ratio', range: [4000, 1e8], help: 'Re, Reynolds number' },
    relativeRoughness: { quantity: 'ratio', range: [0, 0.05], help: 'epsilon / D' },
  },
  output: { quantity: 'ratio', help: '1/sqrt(f) = -1.8 log10((eps/(3.7 D))^1.11 + 6.9/Re)' },
  source: { document: 'Haaland 1983', trust: 'memory' },
  examples: [
    {
      inputs: { reynolds: 1e5, relativeRoughness: 1e-3 },
      expected: 0.021966,
      tolerance: 1e-4,
      source: { document: 'own evaluation', clause: 'friction factor table', trust: 'own' },
    },
  ],
  compute({ reynolds, relativeRoughness }) {
    return (-1.8 * Math.log10((relativeRoughness / 3.7) ** 1.11 + 6.9 / reynolds)) ** -2;
  },
});
