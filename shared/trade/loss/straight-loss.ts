import { defineFormula } from '../formula.ts';

/** Pressure lost in a straight bore, Pa (Darcy), at constant density: use below Mach 0.3 and a loss of 5 % of the pressure. */
export const straightLoss = defineFormula({
  id: 'straight-loss',
  title: 'Pressure loss of a straight tube',
  inputs: {
    frictionFactor: { quantity: 'ratio', range: [0.001, 64], help: 'f, Darcy friction factor' },
    length: { quantity: 'length', range: [0, 1000], help: 'L, length' },
    bore: { quantity: 'length', range: [1e-3, 2], help: 'D, inside diameter' },
    density: { quantity: 'density', range: [0.01, 2000], help: 'rho, density' },
    velocity: { quantity: 'velocity', range: [0, 1000], help: 'u, mean velocity' },
  },
  output: { quantity: 'pressure', help: 'dp = f (L/D) rho u^2 / 2' },
  source: { document: 'Darcy-Weisbach equation, every fluid mechanics text', trust: 'memory' },
  examples: [
    {
      inputs: { frictionFactor: 0.0225, length: 500, bore: 0.2, density: 900, velocity: 6.4 },
      expected: 117 * 900 * 9.81,
      tolerance: 0.02,
      source: {
        document: 'White, Fluid Mechanics, example 6.7',
        clause: 'example E-18: head loss 117 m',
        trust: 'memory',
      },
    },
  ],
  compute({ frictionFactor, length, bore, density, velocity }) {
    return (frictionFactor * (length / bore) * density * velocity ** 2) / 2;
  },
});
