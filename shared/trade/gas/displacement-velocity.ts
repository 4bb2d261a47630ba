import { defineFormula } from '../formula.ts';

/** Displacement velocity over the exhaust stroke, m/s: mean piston speed times bore area over pipe area. Not a gas velocity; trade figures such as 73 to 79 m/s are of this kind and must never be held against the mean gas velocity. */
export const displacementVelocity = defineFormula({
  id: 'displacement-velocity',
  title: 'Displacement velocity over the exhaust stroke',
  inputs: {
    cylinderBore: { quantity: 'length', range: [0.02, 0.3], help: 'B, cylinder bore' },
    stroke: { quantity: 'length', range: [0.02, 0.4], help: 'S, stroke' },
    speed: { quantity: 'rotation', range: [0, 400], help: 'N, crank speed' },
    bore: { quantity: 'length', range: [5e-3, 0.5], help: 'd, inside diameter of the pipe' },
  },
  output: { quantity: 'velocity', help: 'u_p = 2 S N (B/d)^2, N in rev/s' },
  source: {
    document: 'Car Craft, header basics: size objectives',
    trust: 'excerpt',
    note: 'the published area rule equals 74.7 m/s when one displacement leaves in half a revolution (own reading)',
  },
  examples: [
    {
      inputs: { cylinderBore: 86e-3, stroke: 86e-3, speed: 7000 / 60, bore: 40.9e-3 },
      expected: 88.72,
      tolerance: 1e-3,
      source: {
        document: 'own arithmetic',
        clause: 'example E-06: 86 mm bore and stroke, 7000 rev/min, pipe 40.9 mm',
        trust: 'own',
      },
    },
  ],
  compute({ cylinderBore, stroke, speed, bore }) {
    return 2 * stroke * speed * (cylinderBore / bore) ** 2;
  },
});
