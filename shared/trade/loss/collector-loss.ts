import { defineFormula } from '../formula.ts';

/** Loss coefficient of an n-into-1 collector with all tubes flowing steadily, on the outlet rho u^2/2. */
export const collectorLoss = defineFormula({
  id: 'collector-loss',
  title: 'Loss of a collector, all tubes flowing',
  inputs: {
    areaRatio: { quantity: 'ratio', range: [0.2, 2], help: 'sigma, outlet area over the sum of the tube areas' },
    halfAngle: { quantity: 'angle', range: [0, Math.PI / 4], help: 'theta, between a tube and the collector axis' },
  },
  output: { quantity: 'ratio', help: 'K = 1 + sigma^2 - 2 sigma cos(theta)' },
  source: {
    document: 'own momentum balance',
    trust: 'own',
    note: 'equal static pressure over the inlet plane, wall friction and pulsation left out',
  },
  examples: [
    {
      inputs: { areaRatio: 0.54341, halfAngle: (7.5 * Math.PI) / 180 },
      expected: 0.21777,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'example E-21: 4 x 40.9 mm into 60.3 mm', trust: 'own' },
    },
  ],
  compute({ areaRatio, halfAngle }) {
    return 1 + areaRatio ** 2 - 2 * areaRatio * Math.cos(halfAngle);
  },
});
