import { defineFormula } from '../formula.ts';
import { gasDensity, molarMasses } from './gas-density.ts';

/** Density of argon as an ideal gas, kg/m3; over that of air at the same state it is 1.38, so it sinks. */
export const argonDensity = defineFormula({
  id: 'argon-density',
  title: 'Density of argon',
  inputs: {
    temperature: { quantity: 'temperature', range: [200, 1500], help: 'T' },
    pressure: { quantity: 'pressure', range: [1e3, 1e6], help: 'p, absolute', fallback: 101325 },
  },
  output: { quantity: 'density', help: 'rho = p M / (R T), M = 39.948 g/mol' },
  source: { document: 'ideal gas, standard atomic weight', trust: 'memory' },
  examples: [
    {
      inputs: { temperature: 293.15, pressure: 101325 },
      expected: 1.6606861742645627,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '20 C, one atmosphere: 1.66 kg/m3', trust: 'own' },
    },
  ],
  compute: ({ temperature, pressure }) => gasDensity(molarMasses.argon, temperature, pressure),
});
