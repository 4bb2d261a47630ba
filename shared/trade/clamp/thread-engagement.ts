import { defineFormula } from '../formula.ts';

/** Engaged length at which the stud breaks before the tapped thread strips, m. */
export const threadEngagement = defineFormula({
  id: 'thread-engagement',
  title: 'Thread engagement needed',
  inputs: {
    stressArea: { quantity: 'area', range: [1e-7, 1e-2], help: 'As of the stud' },
    tensileStrength: { quantity: 'stress', range: [1e7, 2e9], help: 'Rm of the stud' },
    shearStrength: {
      quantity: 'stress',
      range: [1e6, 1e9],
      help: 'tau of the tapped metal at its temperature; 0.6 Rm',
    },
    shearAreaPerLength: { quantity: 'length', range: [1e-3, 1], help: 'thread-shear-area' },
  },
  output: { quantity: 'length', help: 'L_e = Rm As / (tau A/L)' },
  source: {
    document: 'own: stud strength over thread strength',
    trust: 'own',
    note: 'makers ask at least 2 d in aluminium, 1.25 d in steel',
  },
  examples: [
    {
      inputs: { stressArea: 36.6e-6, tensileStrength: 1040e6, shearStrength: 138e6, shearAreaPerLength: 21.991143e-3 },
      expected: 12.545526e-3,
      tolerance: 5e-3,
      source: { document: 'own arithmetic', clause: 'vector 2.28: M8 10.9 in aluminium', trust: 'own' },
    },
  ],
  compute({ stressArea, tensileStrength, shearStrength, shearAreaPerLength }) {
    return (tensileStrength * stressArea) / (shearStrength * shearAreaPerLength);
  },
});
