import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { exhaustComposition, lambdaRange } from './exhaust-composition.ts';
import { mixtureConductivity } from './mixture-conductivity.ts';

/** Thermal conductivity of exhaust, W/(m.K), species fits mixed by the Mason-Saxena rule. */
export const exhaustConductivity = defineFormula({
  id: 'exhaust-conductivity',
  title: 'Thermal conductivity of exhaust',
  inputs: {
    lambda: { quantity: 'ratio', range: lambdaRange, help: 'lambda, excess-air ratio' },
    temperature: {
      quantity: 'temperature',
      range: [373.2, 1800],
      help: 'T, gas temperature; the water fit starts at 373.2 K',
    },
  },
  output: { quantity: 'conductivity', help: 'k = sum x_i k_i / sum_j x_j phi_ij' },
  source: {
    document: 'NASA TM-4647, as distributed in the NASA CEA data file trans.inp',
    clause: 'conductivity fits; Mason-Saxena rule with factor 1 from memory',
    trust: 'excerpt',
  },
  examples: [
    {
      inputs: { lambda: 1, temperature: 1173.15 },
      expected: 0.0802,
      tolerance: 1e-3,
      source: { document: 'own evaluation', clause: 'table of iso-octane exhaust at 1173.15 K', trust: 'own' },
    },
  ],
  compute({ lambda, temperature }) {
    return derive({ gas: exhaustComposition(lambda) }, ({ gas }) => mixtureConductivity(gas, temperature));
  },
});
