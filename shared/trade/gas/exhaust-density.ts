import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { lambdaRange } from './exhaust-composition.ts';
import { exhaustGasConstant } from './exhaust-gas-constant.ts';

/** Density of exhaust as an ideal gas, kg/m3. */
export const exhaustDensity = defineFormula({
  id: 'exhaust-density',
  title: 'Density of exhaust',
  inputs: {
    lambda: { quantity: 'ratio', range: lambdaRange, help: 'lambda, excess-air ratio' },
    temperature: { quantity: 'temperature', range: [250, 1800], help: 'T, gas temperature' },
    pressure: { quantity: 'pressure', range: [1e4, 2e6], help: 'p, absolute static pressure' },
  },
  output: { quantity: 'density', help: 'rho = p / (R T)' },
  source: { document: 'ideal-gas law', trust: 'memory' },
  examples: [
    {
      inputs: { lambda: 0.8, temperature: 1223.15, pressure: 300e3 },
      expected: 0.80372,
      tolerance: 1e-4,
      source: { document: 'own evaluation', clause: 'example E-03: lambda 0.80, 950 C, 300 kPa', trust: 'own' },
    },
  ],
  compute({ lambda, temperature, pressure }) {
    return derive(
      { gasConstant: exhaustGasConstant.evaluate({ lambda }) },
      (v) => pressure / (v.gasConstant * temperature),
    );
  },
});
