import { defineFormula } from '../formula.ts';

/** Mean gas velocity in a bore from mass flow at local density, m/s. Not the trade's piston-displacement "velocity". */
export const meanGasVelocity = defineFormula({
  id: 'mean-gas-velocity',
  title: 'Mean gas velocity',
  inputs: {
    massFlow: { quantity: 'massFlow', range: [0, 10], help: 'm, mass flow through the bore, mean over the cycle' },
    density: { quantity: 'density', range: [0.01, 50], help: 'rho, local gas density' },
    bore: { quantity: 'length', range: [5e-3, 0.5], help: 'd, inside diameter' },
  },
  output: { quantity: 'velocity', help: 'u = m / (rho pi/4 d^2)' },
  source: { document: 'continuity', trust: 'memory' },
  examples: [
    {
      inputs: { massFlow: 0.344526, density: 0.80372, bore: 50e-3 },
      expected: 218.3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'example E-05: collector bore 50 mm', trust: 'own' },
    },
  ],
  compute({ massFlow, density, bore }) {
    return massFlow / (density * (Math.PI / 4) * bore ** 2);
  },
});
