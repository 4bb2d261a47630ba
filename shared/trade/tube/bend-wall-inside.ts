import { unknown } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';

/** Wall on the inside (intrados) of a bend without boost, m: constant volume, neutral axis on the centreline. */
export const bendWallInside = defineFormula({
  id: 'bend-wall-inside',
  title: 'Wall on the inside of a bend',
  inputs: {
    wall: { quantity: 'length', range: [2e-4, 0.05], help: 't, wall before bending' },
    radius: { quantity: 'length', range: [1e-3, 5], help: 'R, centreline radius' },
    outsideDiameter: { quantity: 'length', range: [1e-3, 1], help: 'OD, tube outside diameter' },
  },
  output: { quantity: 'length', help: 't_in = t R / (R - OD/2)' },
  source: { document: 'own: constant volume', trust: 'own', note: 'the outside form is the published thinning rule' },
  examples: [
    {
      inputs: { wall: 1.6e-3, radius: 66.75e-3, outsideDiameter: 44.5e-3 },
      expected: 2.4e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'example E-29: 1.5D bend', trust: 'own' },
    },
  ],
  compute({ wall, radius, outsideDiameter }) {
    if (radius <= outsideDiameter / 2) {
      const range: readonly [number, number] = [outsideDiameter / 2, 5];
      return unknown({
        reason: 'outOfValidity',
        input: 'bend-wall-inside: radius',
        value: radius,
        range,
        unit: 'length',
      });
    }
    return (wall * radius) / (radius - outsideDiameter / 2);
  },
});
