import { defineFormula } from '../formula.ts';

/** Darcy friction factor of turbulent flow by Swamee and Jain, dimensionless; explicit. */
export const swameeJainFrictionFactor = defineFormula({
  id: 'swamee-jain-friction-factor',
  title: 'Darcy friction factor, Swamee-Jain',
  inputs: {
    reynolds: { quantity: 'ratio', range: [5e3, 1e8], help: 'Re, Reynolds number' },
    relativeRoughness: { quantity: 'ratio', range: [1e-6, 1e-2], help: 'epsilon / D' },
  },
  output: { quantity: 'ratio', help: 'f = 0.25 / log10(eps/(3.7 D) + 5.74/Re^0.9)^2' },
  source: { document: 'Swamee and Jain 1976', trust: 'memory' },
  examples: [
    {
      inputs: { reynolds: 1e5, relativeRoughness: 1e-3 },
      expected: 0.022342,
      tolerance: 1e-4,
      source: { document: 'own evaluation', clause: 'friction factor table', trust: 'own' },
    },
  ],
  compute({ reynolds, relativeRoughness }) {
    return 0.25 / Math.log10(relativeRoughness / 3.7 + 5.74 / reynolds ** 0.9) ** 2;
  },
});
