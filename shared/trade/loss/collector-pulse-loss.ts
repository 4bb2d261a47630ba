import { defineFormula } from '../formula.ts';

/** Loss coefficient of one tube blowing into a collector while the others are quiet, on the tube rho u^2/2. Quasi-steady, small merge angle. */
export const collectorPulseLoss = defineFormula({
  id: 'collector-pulse-loss',
  title: 'Loss of a collector, one tube flowing',
  inputs: {
    areaRatio: { quantity: 'ratio', range: [0, 1], help: 'A1/A3, tube area over collector outlet area' },
  },
  output: { quantity: 'ratio', help: 'K = (1 - A1/A3)^2' },
  source: { document: 'Borda-Carnot applied to one pulse', trust: 'own' },
  examples: [
    {
      inputs: { areaRatio: (40.9 / 60.3) ** 2 },
      expected: 0.29154,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'example E-21: tube 40.9 mm, outlet 60.3 mm', trust: 'own' },
    },
  ],
  compute({ areaRatio }) {
    return (1 - areaRatio) ** 2;
  },
});
