import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { tubeSection } from './tube-section.ts';

/** Metal section of a round tube, m2. */
export const tubeArea = defineFormula({
  id: 'tube-area',
  title: 'Metal section of a tube',
  inputs: {
    outsideDiameter: { quantity: 'length', range: [5e-3, 0.5], help: 'D' },
    wall: { quantity: 'length', range: [2e-4, 0.05], help: 't' },
  },
  output: { quantity: 'area', help: 'A = pi (D - t) t' },
  source: { document: 'geometry', trust: 'own' },
  examples: [
    {
      inputs: { outsideDiameter: 0.0445, wall: 0.0018 },
      expected: 0.0002414628113549115,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '44.5 by 1.8 mm', trust: 'own' },
    },
  ],
  // The density only enters the mass per length, which is not asked for.
  compute: (tube) => derive({ section: tubeSection({ ...tube, density: 8000 }) }, ({ section }) => section.area),
});
