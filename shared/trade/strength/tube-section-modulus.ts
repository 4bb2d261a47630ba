import { unknown } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';

/** Elastic section modulus of a round tube in bending, m3. */
export const tubeSectionModulus = defineFormula({
  id: 'tube-section-modulus',
  title: 'Section modulus of a round tube',
  inputs: {
    outsideDiameter: { quantity: 'length', range: [5e-3, 0.5], help: 'D, outside diameter' },
    wall: { quantity: 'length', range: [2e-4, 0.05], help: 't, wall thickness' },
  },
  output: { quantity: 'sectionModulus', help: 'Z = pi (D^4 - d^4) / (32 D), d = D - 2 t' },
  source: { document: 'beam theory, any strength-of-materials text', trust: 'memory' },
  examples: [
    {
      inputs: { outsideDiameter: 38.1e-3, wall: 1.65e-3 },
      expected: 1650.556784e-9,
      tolerance: 1e-4,
      source: { document: 'own arithmetic', clause: 'vector 6.9: tube 38.1 x 1.65', trust: 'own' },
    },
  ],
  compute({ outsideDiameter, wall }) {
    const bore = outsideDiameter - 2 * wall;
    if (bore < 0) {
      const largest = outsideDiameter / 2;
      return unknown({
        reason: 'outOfValidity',
        input: 'tube-section-modulus: wall',
        value: wall,
        range: [0, largest],
        unit: 'length',
      });
    }
    return (Math.PI * (outsideDiameter ** 4 - bore ** 4)) / (32 * outsideDiameter);
  },
});
