import { defineFormula } from '../formula.ts';

/** Exhaust flow, kg/s: everything that goes in comes out (steady, no blow-by, no secondary air, wastegate flow included). */
export const exhaustMassFlow = defineFormula({
  id: 'exhaust-mass-flow',
  title: 'Exhaust mass flow',
  inputs: {
    airFlow: { quantity: 'massFlow', range: [0, 10], help: 'm_a, air mass flow' },
    fuelFlow: { quantity: 'massFlow', range: [0, 2], help: 'm_f, fuel mass flow' },
  },
  output: { quantity: 'massFlow', help: 'm_e = m_a + m_f' },
  source: { document: 'mass balance', trust: 'own' },
  examples: [
    {
      inputs: { airFlow: 0.317526, fuelFlow: 0.0270005 },
      expected: 0.344526,
      tolerance: 1e-5,
      source: { document: 'own arithmetic', clause: 'example E-02', trust: 'own' },
    },
  ],
  compute({ airFlow, fuelFlow }) {
    return airFlow + fuelFlow;
  },
});
