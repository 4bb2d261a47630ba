import { defineFormula } from '../formula.ts';
import { energyDensity } from './build-time.ts';

/** Laser energy per melted volume, J/m3; alone it does not fix quality. */
export const laserEnergyDensity = defineFormula({
  id: 'laser-energy-density',
  title: 'Laser energy per melted volume',
  inputs: {
    power: { quantity: 'power', range: [10, 2000], help: 'P, of one laser' },
    scanSpeed: { quantity: 'velocity', range: [0.01, 10], help: 'v' },
    hatch: { quantity: 'length', range: [1e-5, 5e-4], help: 'h, between tracks' },
    layer: { quantity: 'length', range: [1e-5, 2e-4], help: 't' },
  },
  output: { quantity: 'energyDensity', help: 'P / (v h t)' },
  source: { document: 'definition', trust: 'own' },
  examples: [
    {
      inputs: { power: 195, scanSpeed: 0.8, hatch: 1e-4, layer: 2e-5 },
      expected: 121.875e9,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: 'inputs of NIST AMB2018-01', trust: 'own' },
    },
  ],
  compute: ({ power, ...scan }) => energyDensity(power, scan),
});
