import { unknown } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';

/** Wall left on the outside (extrados) of a bend without boost, m: constant volume, neutral axis on the centreline. */
export const bendWallOutside = defineFormula({
  id: 'bend-wall-outside',
  title: 'Wall left on the outside of a bend',
  inputs: {
    wall: { quantity: 'length', range: [2e-4, 0.05], help: 't, wall before bending' },
    radius: { quantity: 'length', range: [1e-3, 5], help: 'R, centreline radius of the bend' },
    outsideDiameter: { quantity: 'length', range: [1e-3, 1], help: 'OD, tube outside diameter' },
  },
  output: { quantity: 'length', help: 't_out = t R / (R + OD / 2)' },
  source: {
    document: 'tube bending trade pages',
    clause: 'wall thinning rule',
    trust: 'excerpt',
    note: 'boosted mandrel bends keep more (80 to 90 % at 1.5D, common practice): the rule is on the safe side',
  },
  examples: [
    {
      inputs: { wall: 1.6e-3, radius: 66.75e-3, outsideDiameter: 44.5e-3 },
      expected: 1.2e-3,
      tolerance: 1e-3,
      source: { document: 'tube bending trade pages', clause: 'example E-29: 1.5D bend keeps 75 %', trust: 'excerpt' },
    },
  ],
  compute({ wall, radius, outsideDiameter }) {
    if (radius < outsideDiameter / 2) {
      const range: readonly [number, number] = [outsideDiameter / 2, 5];
      return unknown({
        reason: 'outOfValidity',
        input: 'bend-wall-outside: radius',
        value: radius,
        range,
        unit: 'length',
      });
    }
    return (wall * radius) / (radius + outsideDiameter / 2);
  },
});
