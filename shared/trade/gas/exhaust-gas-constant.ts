import { derive } from '../../units/known.ts';
import { molarGasConstant } from '../data/nasa9.ts';
import { defineFormula } from '../formula.ts';
import { compositionSource, exhaustComposition, lambdaRange } from './exhaust-composition.ts';
import { mixtureMolarMass } from './gas-mixture.ts';

/** Specific gas constant of exhaust, J/(kg.K). */
export const exhaustGasConstant = defineFormula({
  id: 'exhaust-gas-constant',
  title: 'Specific gas constant of exhaust',
  inputs: { lambda: { quantity: 'ratio', range: lambdaRange, help: 'lambda, excess-air ratio' } },
  output: { quantity: 'specificGasConstant', help: 'R = molar gas constant / molar mass of the exhaust' },
  source: compositionSource,
  examples: [
    {
      inputs: { lambda: 0.8 },
      expected: 305.165,
      tolerance: 1e-4,
      source: { document: 'own evaluation', clause: 'table of iso-octane exhaust', trust: 'own' },
    },
    {
      inputs: { lambda: 1 },
      expected: 290.66,
      tolerance: 1e-4,
      source: { document: 'own evaluation', clause: 'table of iso-octane exhaust', trust: 'own' },
    },
  ],
  compute({ lambda }) {
    return derive({ gas: exhaustComposition(lambda) }, ({ gas }) => molarGasConstant / mixtureMolarMass(gas));
  },
});
