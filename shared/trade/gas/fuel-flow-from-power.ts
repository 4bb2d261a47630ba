import { defineFormula } from '../formula.ts';

/** Fuel flow from brake power, kg/s: a cross-check of the flow found from air. */
export const fuelFlowFromPower = defineFormula({
  id: 'fuel-flow-from-power',
  title: 'Fuel flow from brake power',
  inputs: {
    power: { quantity: 'power', range: [0, 5e6], help: 'P, brake power' },
    consumption: {
      quantity: 'specificConsumption',
      range: [150 / 3.6e9, 1000 / 3.6e9],
      help: 'BSFC, brake specific fuel consumption; boosted gasoline engines use 300 to 380 g/kWh at full load (common practice)',
    },
  },
  output: { quantity: 'massFlow', help: 'm_f = BSFC P' },
  source: { document: 'definition of specific consumption', trust: 'own' },
  examples: [
    {
      inputs: { power: 300e3, consumption: 360 / 3.6e9 },
      expected: 0.03,
      tolerance: 1e-12,
      source: { document: 'own arithmetic', clause: '300 kW at 360 g/kWh is 108 kg/h', trust: 'own' },
    },
  ],
  compute({ power, consumption }) {
    return consumption * power;
  },
});
