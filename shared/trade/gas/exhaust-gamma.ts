import { derive } from '../../units/known.ts';
import { thermoSource } from '../data/nasa9.ts';
import { defineFormula } from '../formula.ts';
import { exhaustComposition, lambdaRange } from './exhaust-composition.ts';
import { mixtureState } from './gas-mixture.ts';

/** Ratio of specific heats of exhaust, dimensionless, at frozen composition. */
export const exhaustGamma = defineFormula({
  id: 'exhaust-gamma',
  title: 'Ratio of specific heats of exhaust',
  inputs: {
    lambda: { quantity: 'ratio', range: lambdaRange, help: 'lambda, excess-air ratio' },
    temperature: { quantity: 'temperature', range: [250, 1800], help: 'T, gas temperature' },
  },
  output: { quantity: 'ratio', help: 'gamma = cp / (cp - R)' },
  source: thermoSource,
  examples: [
    {
      inputs: { lambda: 0.8, temperature: 1173.15 },
      expected: 1.29212,
      tolerance: 1e-4,
      source: { document: 'own evaluation', clause: 'table of iso-octane exhaust at 1173.15 K', trust: 'own' },
    },
  ],
  compute({ lambda, temperature }) {
    return derive({ gas: exhaustComposition(lambda) }, ({ gas }) =>
      derive({ state: mixtureState(gas, temperature) }, ({ state }) => state.gamma),
    );
  },
});
