import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { wedgeBlock } from './wedge-block.ts';

/** Force on the gasket under a wedge block pulled down by a bolt against a back wall, N: never more than the bolt gives. */
export const blockGasketForce = defineFormula({
  id: 'block-gasket-force',
  title: 'Gasket force of a wedge block',
  inputs: {
    boltForce: { quantity: 'force', range: [0, 1e6], help: 'F_b' },
    angle: { quantity: 'angle', range: [0, 1.4], help: 'alpha from the sealing plane' },
    bevelFriction: { quantity: 'ratio', range: [0, 0.6], help: 'mu_1 on the bevel' },
    wallFriction: { quantity: 'ratio', range: [0, 0.6], help: 'mu_2 on the back wall' },
  },
  output: {
    quantity: 'force',
    help: 'N = B (cos alpha + mu_1 sin alpha), B = F_b / (cos alpha + mu_1 sin alpha + mu_2 (sin alpha - mu_1 cos alpha))',
  },
  source: { document: 'own: statics', trust: 'own' },
  examples: [
    {
      inputs: { boltForce: 15000, angle: 0.5235987755982988, bevelFriction: 0.15, wallFriction: 0.15 },
      expected: 14164.392230679823,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '15 kN, 30 degrees, mu 0.15', trust: 'own' },
    },
  ],
  compute: (block) => derive({ forces: wedgeBlock(block) }, ({ forces }) => forces.gasket),
});
