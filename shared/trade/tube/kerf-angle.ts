import { defineFormula } from '../formula.ts';

/** Angle a saw cut takes from a bend, rad. */
export const kerfAngle = defineFormula({
  id: 'kerf-angle',
  title: 'Angle lost to a saw cut',
  inputs: {
    kerf: { quantity: 'length', range: [1e-5, 0.02], help: 'width of the cut' },
    radius: {
      quantity: 'length',
      range: [1e-3, 5],
      help: 'radius at which it is counted: centreline, or inner wall if the inside must be kept',
    },
  },
  output: { quantity: 'angle', help: 'kerf / radius' },
  source: { document: 'geometry', trust: 'own' },
  examples: [
    {
      inputs: { kerf: 2e-3, radius: 66.75e-3 },
      expected: (1.717 * Math.PI) / 180,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: '2 mm at R 66.75', trust: 'own' },
    },
  ],
  compute({ kerf, radius }) {
    return kerf / radius;
  },
});
