import { inconsistent } from '../data/validity.ts';
import { defineFormula } from '../formula.ts';

/** How far the chord between two points on an arc lies inside it at most, m: the error of a scan line of that spacing on a round surface. */
export const arcChordError = defineFormula({
  id: 'arc-chord-error',
  title: 'Chord error of a point spacing',
  inputs: {
    spacing: { quantity: 'length', range: [0, 0.1], help: 's, distance between neighbouring points' },
    radius: { quantity: 'length', range: [1e-4, 10], help: 'R, radius of the surface' },
  },
  output: { quantity: 'length', help: 'R - sqrt(R^2 - s^2/4), s^2/(8R) for small s' },
  source: { document: 'geometry', trust: 'own' },
  examples: [
    {
      inputs: { spacing: 2e-3, radius: 20e-3 },
      expected: 0.025e-3,
      tolerance: 2e-3,
      source: { document: 'own arithmetic', clause: '2 mm on radius 20 mm: 0.025 mm', trust: 'own' },
    },
    {
      inputs: { spacing: 3e-3, radius: 22.25e-3 },
      expected: 0.0506e-3,
      tolerance: 5e-3,
      source: { document: 'own arithmetic', clause: '3 mm on radius 22.25 mm: 0.051 mm', trust: 'own' },
    },
  ],
  compute({ spacing, radius }) {
    const half = spacing / 2;
    if (half > radius)
      return inconsistent(`arc-chord-error: expected a spacing up to the diameter ${2 * radius} m, got ${spacing} m`);
    // The plain difference loses its digits on fine spacings.
    return half ** 2 / (radius + Math.sqrt(radius ** 2 - half ** 2));
  },
});
