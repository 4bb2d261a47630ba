import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { airProperties } from './air-properties.ts';

/** Thermal conductivity of dry air at a temperature, SI. */
export const airConductivity = defineFormula({
  id: 'air-conductivity',
  title: 'Conductivity of dry air',
  inputs: {
    temperature: { quantity: 'temperature', range: [220, 2000], help: 'T' },
  },
  output: { quantity: 'conductivity', help: 'k, Mason-Saxena rule' },
  source: { document: 'NASA TP-2002-211556 and TM-4647 fits, ideal gas, 79/21 nitrogen and oxygen', trust: 'excerpt' },
  examples: [
    {
      inputs: { temperature: 800 },
      expected: 0.05553,
      tolerance: 0.0005,
      source: {
        document: 'own: NASA fits by an independent program',
        clause: 'dry air at 800 K, one atmosphere',
        trust: 'own',
      },
    },
  ],
  compute: ({ temperature }) => derive({ air: airProperties(temperature) }, ({ air }) => air.conductivity),
});
