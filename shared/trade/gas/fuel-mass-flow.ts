import { defineFormula } from '../formula.ts';

/** Fuel flow that goes with an air flow at a given lambda, kg/s. */
export const fuelMassFlow = defineFormula({
  id: 'fuel-mass-flow',
  title: 'Fuel mass flow',
  inputs: {
    airFlow: { quantity: 'massFlow', range: [0, 10], help: 'm_a, air mass flow' },
    lambda: { quantity: 'ratio', range: [0.5, 3], help: 'lambda, excess-air ratio' },
    stoichiometricAirFuel: {
      quantity: 'ratio',
      range: [5, 18],
      help: 'AFR_s by mass; iso-octane 15.13, pump gasoline 14.6 to 14.7',
      fallback: 14.7,
    },
  },
  output: { quantity: 'massFlow', help: 'm_f = m_a / (lambda AFR_s)' },
  source: { document: 'definition of lambda', trust: 'memory' },
  examples: [
    {
      inputs: { airFlow: 0.317526, lambda: 0.8, stoichiometricAirFuel: 14.7 },
      expected: 0.0270005,
      tolerance: 1e-5,
      source: { document: 'own arithmetic', clause: 'example E-02', trust: 'own' },
    },
  ],
  compute({ airFlow, lambda, stoichiometricAirFuel }) {
    return airFlow / (lambda * stoichiometricAirFuel);
  },
});
