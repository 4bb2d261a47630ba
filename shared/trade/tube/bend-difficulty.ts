import { defineFormula } from '../formula.ts';

/** Difficulty of a rotary-draw bend, dimensionless; above 7 it needs care. */
export const bendDifficulty = defineFormula({
  id: 'bend-difficulty',
  title: 'Bend difficulty',
  inputs: {
    radius: { quantity: 'length', range: [1e-3, 5], help: 'R, centreline radius' },
    outsideDiameter: { quantity: 'length', range: [1e-3, 1], help: 'OD, tube outside diameter' },
    wall: { quantity: 'length', range: [2e-4, 0.05], help: 't, wall' },
    angle: { quantity: 'angle', range: [0, 2 * Math.PI], help: 'A, bend angle' },
    materialFactor: { quantity: 'ratio', range: [0.5, 5], help: 'K_r, about 2 for stainless and nickel', fallback: 2 },
  },
  output: { quantity: 'ratio', help: 'F = (2 K_r + 0.2 OD/t + A/180 degrees) / (R/OD)' },
  source: { document: 'tube bending trade pages', clause: 'difficulty rule', trust: 'excerpt' },
  examples: [
    {
      inputs: { radius: 66.75e-3, outsideDiameter: 44.5e-3, wall: 1.6e-3, angle: Math.PI / 2, materialFactor: 2 },
      expected: 6.70833,
      tolerance: 1e-4,
      source: { document: 'own arithmetic', clause: '1.5D bend of 44.5 x 1.6, 90 degrees', trust: 'own' },
    },
  ],
  compute({ radius, outsideDiameter, wall, angle, materialFactor }) {
    return (2 * materialFactor + (0.2 * outsideDiameter) / wall + angle / Math.PI) / (radius / outsideDiameter);
  },
});
