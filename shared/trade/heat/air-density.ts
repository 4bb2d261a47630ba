import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { airProperties } from './air-properties.ts';

/** Density of dry air at a temperature, SI. */
export const airDensity = defineFormula({
  id: 'air-density',
  title: 'Density of dry air',
  inputs: {
    temperature: { quantity: 'temperature', range: [220, 2000], help: 'T' },
    pressure: { quantity: 'pressure', range: [1e4, 1e6], help: 'p, absolute', fallback: 101325 },
  },
  output: { quantity: 'density', help: 'rho = p / (R T)' },
  source: { document: 'NASA TP-2002-211556 and TM-4647 fits, ideal gas, 79/21 nitrogen and oxygen', trust: 'excerpt' },
  examples: [
    {
      inputs: { temperature: 800, pressure: 101325 },
      expected: 0.4394734559333796,
      tolerance: 0.002,
      source: {
        document: 'own: NASA fits by an independent program',
        clause: 'dry air at 800 K, one atmosphere',
        trust: 'own',
      },
    },
  ],
  compute: ({ temperature, pressure }) =>
    derive({ air: airProperties(temperature, pressure) }, ({ air }) => air.density),
});
