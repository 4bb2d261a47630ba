import { derive } from '../../units/known.ts';
import { viscositySource } from '../data/viscosity.ts';
import { defineFormula } from '../formula.ts';
import { exhaustComposition, lambdaRange } from './exhaust-composition.ts';
import { mixtureViscosity } from './gas-mixture.ts';

/** Dynamic viscosity of exhaust, Pa.s, species fits mixed by Wilke's rule. */
export const exhaustViscosity = defineFormula({
  id: 'exhaust-viscosity',
  title: 'Dynamic viscosity of exhaust',
  inputs: {
    lambda: { quantity: 'ratio', range: lambdaRange, help: 'lambda, excess-air ratio' },
    temperature: {
      quantity: 'temperature',
      range: [373.2, 1800],
      help: 'T, gas temperature; the water fit starts at 373.2 K',
    },
  },
  output: { quantity: 'viscosity', help: 'mu = sum x_i mu_i / sum_j x_j phi_ij' },
  source: viscositySource,
  examples: [
    {
      inputs: { lambda: 1, temperature: 1173.15 },
      expected: 4.6204e-5,
      tolerance: 1e-4,
      source: { document: 'own evaluation', clause: 'table of iso-octane exhaust at 1173.15 K', trust: 'own' },
    },
  ],
  compute({ lambda, temperature }) {
    return derive({ gas: exhaustComposition(lambda) }, ({ gas }) => mixtureViscosity(gas, temperature));
  },
});
