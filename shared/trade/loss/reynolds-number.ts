import { defineFormula } from '../formula.ts';

/** Reynolds number of pipe flow, dimensionless. */
export const reynoldsNumber = defineFormula({
  id: 'reynolds-number',
  title: 'Reynolds number',
  inputs: {
    density: { quantity: 'density', range: [0.01, 2000], help: 'rho, density' },
    velocity: { quantity: 'velocity', range: [0, 5000], help: 'u, mean velocity' },
    bore: { quantity: 'length', range: [1e-3, 2], help: 'D, inside diameter' },
    viscosity: { quantity: 'viscosity', range: [1e-6, 10], help: 'mu, dynamic viscosity' },
  },
  output: { quantity: 'ratio', help: 'Re = rho u D / mu' },
  source: { document: 'definition of the Reynolds number', trust: 'memory' },
  examples: [
    {
      inputs: { density: 900, velocity: 0.2 / ((Math.PI / 4) * 0.2 ** 2), bore: 0.2, viscosity: 900 * 1e-5 },
      expected: 1.27e5,
      tolerance: 5e-3,
      source: { document: 'White, Fluid Mechanics, example 6.7', clause: 'example E-18', trust: 'memory' },
    },
  ],
  compute({ density, velocity, bore, viscosity }) {
    return (density * velocity * bore) / viscosity;
  },
});
