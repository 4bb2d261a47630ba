import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { leverClamp } from './lever-clamp.ts';

/** Force on the gasket of a flange hooked under a ledge on one edge and bolted on the other, N. */
export const leverGasketForce = defineFormula({
  id: 'lever-gasket-force',
  title: 'Gasket force of a hooked flange',
  inputs: {
    boltForce: { quantity: 'force', range: [1, 1e6], help: 'F_b' },
    boltDistance: { quantity: 'length', range: [1e-3, 1], help: 'b, ledge contact to bolts' },
    gasketDistance: { quantity: 'length', range: [1e-3, 1], help: 'g, ledge contact to the resultant of the gasket' },
    angle: { quantity: 'angle', range: [0, 1.3], help: 'alpha, of the ledge from the sealing plane' },
    friction: { quantity: 'ratio', range: [0, 0.6], help: 'mu on the ledge' },
  },
  output: { quantity: 'force', help: 'F = F_b b / g' },
  source: { document: 'own: statics', trust: 'own' },
  examples: [
    {
      inputs: { boltForce: 20000, boltDistance: 0.06, gasketDistance: 0.04, angle: 0.2617993877991494, friction: 0.15 },
      expected: 30000,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '20 kN at 60 mm, gasket at 40 mm', trust: 'own' },
    },
  ],
  compute: (clamp) => derive({ forces: leverClamp(clamp) }, ({ forces }) => forces.gasket),
});
