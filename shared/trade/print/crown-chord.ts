import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { boreCrown } from './bore-crown.ts';

/** Width of the crown of a printed bore that does not carry itself, m; 0 when all of it does. */
export const crownChord = defineFormula({
  id: 'crown-chord',
  title: 'Crown of a bore that needs support',
  inputs: {
    diameter: { quantity: 'length', range: [1e-4, 0.3], help: 'D' },
    limitAngle: { quantity: 'angle', range: [0.1, 1.4], help: 'alpha, least self-supporting, from the plate' },
    tilt: { quantity: 'angle', range: [0, Math.PI / 2], help: 'beta, of the axis from the plate' },
  },
  output: { quantity: 'length', help: 'chord = D sin(phi), cos(phi) = cos(alpha) / cos(beta)' },
  source: { document: 'own geometry', trust: 'own' },
  examples: [
    {
      inputs: { diameter: 0.04, limitAngle: 0.7853981633974483, tilt: 0.3490658503988659 },
      expected: 0.02634426948796578,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '40 mm bore tilted 20 degrees', trust: 'own' },
    },
  ],
  compute: (bore) => derive({ crown: boreCrown(bore) }, ({ crown }) => crown.chord),
});
