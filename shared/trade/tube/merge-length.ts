import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { collectorSize } from './collector.ts';

/** Length of a merge collector from inlet face to outlet, m; about 1 % short because the tube section is taken as a circle. */
export const mergeLength = defineFormula({
  id: 'merge-length',
  title: 'Length of a merge collector',
  inputs: {
    tubes: { quantity: 'count', range: [2, 6], help: 'N, whole' },
    halfAngle: { quantity: 'angle', range: [0.03, 0.8], help: 'alpha, half the included angle' },
    tubeRadius: { quantity: 'length', range: [1e-3, 0.5], help: 'r; inner for flow' },
    outletDiameter: { quantity: 'length', range: [1e-3, 1], help: 'd_o, on the same side of the wall' },
  },
  output: { quantity: 'length', help: 'L = (r / sin(pi/N) + r - d_o/2) / tan(alpha)' },
  source: { document: 'own geometry', trust: 'own' },
  examples: [
    {
      inputs: { tubes: 4, halfAngle: 0.13962634015954636, tubeRadius: 0.0205, outletDiameter: 0.06 },
      expected: 0.13868836107259003,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: 'four tubes of 41 mm, 8 degrees, outlet 60 mm', trust: 'own' },
    },
  ],
  compute: (collector) => derive({ size: collectorSize(collector) }, ({ size }) => size.length),
});
