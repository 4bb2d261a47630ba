import { unknown } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';

/** Greatest angle of a chord that stays within an error of its arc, rad. */
export const chordAngleForError = defineFormula({
  id: 'chord-angle-for-error',
  title: 'Chord angle for a sagitta error',
  inputs: {
    radius: { quantity: 'length', range: [1e-3, 5], help: 'R, centreline radius' },
    error: { quantity: 'length', range: [1e-7, 1], help: 'epsilon, greatest distance between chord and arc' },
  },
  output: { quantity: 'angle', help: 'A = 2 acos(1 - epsilon / R)' },
  source: { document: 'geometry', trust: 'own' },
  examples: [
    {
      inputs: { radius: 66.75e-3, error: 0.25e-3 },
      expected: (9.92 * Math.PI) / 180,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'R 66.75 mm, 0.25 mm', trust: 'own' },
    },
  ],
  compute({ radius, error }) {
    if (error > radius) {
      const range: readonly [number, number] = [1e-7, radius];
      return unknown({
        reason: 'outOfValidity',
        input: 'chord-angle-for-error: error',
        value: error,
        range,
        unit: 'length',
      });
    }
    // The half-angle form: the arc cosine of nearly one keeps half the digits.
    return 4 * Math.asin(Math.sqrt(error / (2 * radius)));
  },
});
