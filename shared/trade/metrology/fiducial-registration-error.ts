import { defineFormula } from '../formula.ts';

/** Expected RMS distance left between matched points after a rigid fit, m. It says nothing about the error at a far flange: use points held out of the fit. */
export const fiducialRegistrationError = defineFormula({
  id: 'fiducial-registration-error',
  title: 'Expected fit residual of a registration',
  inputs: {
    localisationError: { quantity: 'length', range: [0, 0.01], help: 'FLE, RMS error of locating a point' },
    points: { quantity: 'count', range: [3, 1e6], help: 'N, matched points' },
  },
  output: { quantity: 'length', help: 'FRE = sqrt((1 - 2/N) FLE^2)' },
  source: { document: 'Fitzpatrick, West and Maurer 1998', trust: 'memory' },
  examples: [
    {
      inputs: { localisationError: 1e-3, points: 4 },
      expected: Math.SQRT1_2 * 1e-3,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: 'four points', trust: 'own' },
    },
  ],
  compute({ localisationError, points }) {
    return localisationError * Math.sqrt(1 - 2 / points);
  },
});
