import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { leverClamp } from './lever-clamp.ts';

/** Force that must push the flange in under its ledge while the bolts are tightened, N. */
export const leverPushIn = defineFormula({
  id: 'lever-push-in',
  title: 'Push on a hooked flange',
  inputs: {
    boltForce: { quantity: 'force', range: [1, 1e6], help: 'F_b' },
    boltDistance: { quantity: 'length', range: [1e-3, 1], help: 'b, ledge contact to bolts' },
    gasketDistance: { quantity: 'length', range: [1e-3, 1], help: 'g, ledge contact to the resultant of the gasket' },
    angle: { quantity: 'angle', range: [0, 1.3], help: 'alpha, of the ledge from the sealing plane' },
    friction: { quantity: 'ratio', range: [0, 0.6], help: 'mu on the ledge' },
  },
  output: { quantity: 'force', help: 'push = F_b (b/g - 1) tan(alpha + phi)' },
  source: { document: 'own: statics', trust: 'own' },
  examples: [
    {
      inputs: { boltForce: 20000, boltDistance: 0.06, gasketDistance: 0.04, angle: 0.2617993877991494, friction: 0.15 },
      expected: 4354.5100416762825,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: 'ledge force 10 kN, 15 degrees, mu 0.15', trust: 'own' },
    },
  ],
  compute: (clamp) => derive({ forces: leverClamp(clamp) }, ({ forces }) => forces.pushIn),
});
