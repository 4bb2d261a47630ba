import { defineFormula } from '../formula.ts';

/** Distance from the datum fastener up to which a clearance hole is enough, m; beyond it the hole must be a slot. */
export const holeReach = defineFormula({
  id: 'hole-reach',
  title: 'Reach of a clearance hole',
  inputs: {
    clearance: { quantity: 'length', range: [0, 5e-3], help: 'radial clearance, (hole - stud) / 2' },
    positionError: { quantity: 'length', range: [0, 5e-3], help: 'position error of the pair' },
    growthPerLength: { quantity: 'ratio', range: [1e-6, 0.05], help: '|alpha_f (T_f - T0) - alpha_h (T_h - T0)|' },
  },
  output: { quantity: 'length', help: 'reach = (clearance - error) / growth per length' },
  source: { document: 'own: clearance against growth', trust: 'own' },
  examples: [
    {
      inputs: { clearance: 0.5e-3, positionError: 0.1e-3, growthPerLength: 2.3032 / 400 },
      expected: 69.468565e-3,
      tolerance: 2e-3,
      source: { document: 'own arithmetic', clause: 'vector 5.1: 304 flange, M8 in a 9 mm hole', trust: 'own' },
    },
  ],
  compute({ clearance, positionError, growthPerLength }) {
    return Math.max(0, clearance - positionError) / growthPerLength;
  },
});
