import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { torchTop } from './torch-top.ts';

/** Height of the top edge of a tilted torch head above the joint, m. */
export const torchTopHeight = defineFormula({
  id: 'torch-top-height',
  title: 'Height of a torch head',
  inputs: {
    length: { quantity: 'length', range: [0.01, 0.5], help: 'L, tungsten tip to cap top' },
    diameter: { quantity: 'length', range: [5e-3, 0.1], help: 'D, of the head' },
    tilt: { quantity: 'angle', range: [0, 1.3], help: 'theta from the joint normal' },
  },
  output: { quantity: 'length', help: 'height = L cos(theta) + D/2 sin(theta)' },
  source: { document: 'own geometry', trust: 'own' },
  examples: [
    {
      inputs: { length: 0.16, diameter: 0.03, tilt: 0.3490658503988659 },
      expected: 0.15548112147563037,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '160 mm head of 30 mm at 20 degrees', trust: 'own' },
    },
  ],
  compute: ({ length, diameter, tilt }) => derive({ top: torchTop(length, diameter, tilt) }, ({ top }) => top.height),
});
