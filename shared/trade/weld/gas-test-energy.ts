import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { testEnergy } from './test-energy.ts';

/** The gas does not ask for it; any value inside the range of the test does. */
const ANY_LIQUID = 2.2e9;

/** Energy let go when a part opens under a gas test, J. */
export const gasTestEnergy = defineFormula({
  id: 'gas-test-energy',
  title: 'Stored energy of a gas pressure test',
  inputs: {
    volume: { quantity: 'volume', range: [1e-6, 10], help: 'V, of the part under test' },
    gaugePressure: { quantity: 'pressure', range: [1, 1e7], help: 'p1 - p0, above the surroundings' },
    surroundings: { quantity: 'pressure', range: [5e4, 1.2e5], help: 'p0, absolute', fallback: 101325 },
    gamma: { quantity: 'ratio', range: [1.05, 1.7], help: 'of the test gas', fallback: 1.4 },
  },
  output: { quantity: 'energy', help: 'E = p1 V / (gamma - 1) (1 - (p0/p1)^((gamma - 1)/gamma))' },
  source: { document: 'isentropic expansion of an ideal gas', trust: 'memory' },
  examples: [
    {
      inputs: { volume: 2.5e-3, gaugePressure: 2e5, surroundings: 101325, gamma: 1.4 },
      expected: 503.91,
      tolerance: 1e-4,
      source: { document: 'own arithmetic', clause: '2.5 L at 2 bar gauge', trust: 'own' },
    },
  ],
  compute: (test) =>
    derive({ energy: testEnergy({ ...test, bulkModulus: ANY_LIQUID }) }, ({ energy }) => energy.isentropic),
});
