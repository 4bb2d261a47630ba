import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { testEnergy } from './test-energy.ts';

/** The liquid does not ask for them; any values inside the range of the test do. */
const anyGas = { surroundings: 101325, gamma: 1.4 } as const;

/** Energy a liquid gives back when a part opens under a liquid test, J: why a test is made with water first. */
export const liquidTestEnergy = defineFormula({
  id: 'liquid-test-energy',
  title: 'Stored energy of a liquid pressure test',
  inputs: {
    volume: { quantity: 'volume', range: [1e-6, 10], help: 'V, of the part under test' },
    gaugePressure: { quantity: 'pressure', range: [1, 1e7], help: 'p, above the surroundings' },
    bulkModulus: { quantity: 'stress', range: [1e8, 1e10], help: 'K, of the liquid; water 2.2 GPa', fallback: 2.2e9 },
  },
  output: { quantity: 'energy', help: 'E = V p^2 / (2 K)' },
  source: { document: 'compression of a linear liquid', trust: 'memory' },
  examples: [
    {
      inputs: { volume: 2.5e-3, gaugePressure: 2e5, bulkModulus: 2.2e9 },
      expected: 0.0227273,
      tolerance: 1e-5,
      source: { document: 'own arithmetic', clause: '2.5 L at 2 bar gauge', trust: 'own' },
    },
  ],
  compute: (test) => derive({ energy: testEnergy({ ...test, ...anyGas }) }, ({ energy }) => energy.liquid),
});
