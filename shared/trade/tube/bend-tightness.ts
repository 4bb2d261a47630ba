import { defineFormula } from '../formula.ts';

/** Centreline bend radius over tube outside diameter, dimensionless: 1.5 is a 1.5D bend. */
export const bendTightness = defineFormula({
  id: 'bend-tightness',
  title: 'Bend tightness',
  inputs: {
    radius: { quantity: 'length', range: [0, 5], help: 'CLR, centreline radius of the bend' },
    outsideDiameter: { quantity: 'length', range: [1e-3, 1], help: 'OD, tube outside diameter' },
  },
  output: { quantity: 'ratio', help: 'CLR / OD' },
  source: { document: 'tube bending trade pages', clause: 'D-ratio', trust: 'excerpt' },
  examples: [
    {
      inputs: { radius: 66.75e-3, outsideDiameter: 44.5e-3 },
      expected: 1.5,
      tolerance: 1e-12,
      source: {
        document: 'tube bending trade pages',
        clause: 'example E-29: 1.5D bend of 44.5 mm tube',
        trust: 'excerpt',
      },
    },
  ],
  compute({ radius, outsideDiameter }) {
    return radius / outsideDiameter;
  },
});
