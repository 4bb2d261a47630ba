import { defineFormula } from '../formula.ts';

/** Standard acceleration of free fall, m/s2 (ISO 80000-3). */
const gravity = 9.80665;

/** Nominal bending stress at the root of a tube that carries an overhung mass, Pa; joint stress raisers are not in it. */
export const cantileverBendingStress = defineFormula({
  id: 'cantilever-bending-stress',
  title: 'Bending stress from an overhung mass',
  inputs: {
    dynamicFactor: { quantity: 'ratio', range: [0, 50], help: 'g, peak load in units of gravity' },
    mass: { quantity: 'mass', range: [0, 200], help: 'M, overhung mass' },
    arm: { quantity: 'length', range: [0, 2], help: 'L, root to centre of gravity' },
    sectionModulus: {
      quantity: 'sectionModulus',
      range: [1e-9, 1e-3],
      help: 'Z, section modulus of the loaded section',
    },
    unsupportedShare: {
      quantity: 'share',
      range: [0, 1],
      help: 'share of the load that braces do not carry',
      fallback: 1,
    },
  },
  output: { quantity: 'stress', help: 'sigma = share g M 9.80665 L / Z' },
  source: {
    document: 'beam theory, any strength-of-materials text',
    trust: 'memory',
    note: 'dynamic factor 5 to 10 is common practice, unsourced',
  },
  examples: [
    {
      inputs: { dynamicFactor: 5, mass: 8, arm: 0.2, sectionModulus: 3233.9e-9, unsupportedShare: 1 },
      expected: 24.259695e6,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector 6.14: 8 kg at 200 mm on tube 48.3 x 2, 5 g', trust: 'own' },
    },
  ],
  compute({ dynamicFactor, mass, arm, sectionModulus, unsupportedShare }) {
    return (unsupportedShare * dynamicFactor * mass * gravity * arm) / sectionModulus;
  },
});
