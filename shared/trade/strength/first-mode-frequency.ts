import { unknown } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';

/** First bending frequency of a tube that carries a mass at its tip, Hz. Turbo inertia and flange flexibility are not in it: the real one is lower. */
export const firstModeFrequency = defineFormula({
  id: 'first-mode-frequency',
  title: 'First mode of a tube with a tip mass',
  inputs: {
    modulus: { quantity: 'stress', range: [1e9, 3e11], help: 'E, modulus at the tube temperature' },
    outsideDiameter: { quantity: 'length', range: [5e-3, 0.5], help: 'D, outside diameter' },
    wall: { quantity: 'length', range: [2e-4, 0.05], help: 't, wall thickness' },
    length: { quantity: 'length', range: [0.02, 3], help: 'L, fixed end to centre of gravity of the mass' },
    density: { quantity: 'density', range: [1000, 2e4], help: 'rho, tube material' },
    tipMass: { quantity: 'mass', range: [0, 200], help: 'M, mass at the tip; 0 for the bare tube' },
  },
  output: { quantity: 'frequency', help: 'f = sqrt(3 E I / L^3 / (M + 33/140 m)) / (2 pi)' },
  source: {
    document: 'beam theory, any strength-of-materials text',
    clause: 'Rayleigh, 33/140 of the tube mass at the tip',
    trust: 'memory',
    note: '1.5 % high for the bare tube, less with a mass',
  },
  examples: [
    {
      inputs: { modulus: 207.5e9, outsideDiameter: 48.3e-3, wall: 2e-3, length: 0.2, density: 8440, tipMass: 8 },
      expected: 137.721496,
      tolerance: 2e-3,
      source: {
        document: 'own arithmetic',
        clause: 'vector 6.16: 8 kg at 200 mm on 625 tube 48.3 x 2, 20 C',
        trust: 'own',
      },
    },
  ],
  compute({ modulus, outsideDiameter, wall, length, density, tipMass }) {
    const bore = outsideDiameter - 2 * wall;
    if (bore < 0) {
      const range: readonly [number, number] = [0, outsideDiameter / 2];
      return unknown({
        reason: 'outOfValidity',
        input: 'first-mode-frequency: wall',
        value: wall,
        range,
        unit: 'length',
      });
    }
    const secondMoment = (Math.PI * (outsideDiameter ** 4 - bore ** 4)) / 64;
    const tubeMass = (density * length * Math.PI * (outsideDiameter ** 2 - bore ** 2)) / 4;
    const stiffness = (3 * modulus * secondMoment) / length ** 3;
    return Math.sqrt(stiffness / (tipMass + (33 / 140) * tubeMass)) / (2 * Math.PI);
  },
});
