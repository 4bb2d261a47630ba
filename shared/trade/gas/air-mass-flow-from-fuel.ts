import { defineFormula } from '../formula.ts';

/** Air flow that goes with a fuel flow, kg/s: a cross-check of the flow found from volumetric efficiency. */
export const airMassFlowFromFuel = defineFormula({
  id: 'air-mass-flow-from-fuel',
  title: 'Air mass flow from fuel flow',
  inputs: {
    fuelFlow: { quantity: 'massFlow', range: [0, 2], help: 'm_f, fuel mass flow' },
    lambda: { quantity: 'ratio', range: [0.5, 3], help: 'lambda, excess-air ratio' },
    stoichiometricAirFuel: {
      quantity: 'ratio',
      range: [5, 18],
      help: 'AFR_s by mass; iso-octane 15.13, pump gasoline 14.6 to 14.7',
      fallback: 14.7,
    },
  },
  output: { quantity: 'massFlow', help: 'm_a = m_f lambda AFR_s' },
  source: { document: 'definition of lambda', trust: 'memory' },
  examples: [
    {
      inputs: { fuelFlow: 0.0270005, lambda: 0.8, stoichiometricAirFuel: 14.7 },
      expected: 0.317526,
      tolerance: 1e-5,
      source: { document: 'own arithmetic', clause: 'example E-02 read backwards', trust: 'own' },
    },
  ],
  compute({ fuelFlow, lambda, stoichiometricAirFuel }) {
    return fuelFlow * lambda * stoichiometricAirFuel;
  },
});
