import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { collectorSize } from './collector.ts';

/** Diameter over all tubes at the inlet face of a merge collector, m. */
export const bundleDiameter = defineFormula({
  id: 'bundle-diameter',
  title: 'Bundle diameter of a merge collector',
  inputs: {
    tubes: { quantity: 'count', range: [2, 6], help: 'N, whole' },
    tubeRadius: { quantity: 'length', range: [1e-3, 0.5], help: 'r; inner for flow' },
  },
  output: { quantity: 'length', help: 'D = 2 r (1 + 1 / sin(pi/N))' },
  source: { document: 'own geometry', trust: 'own' },
  examples: [
    {
      inputs: { tubes: 4, tubeRadius: 0.0205 },
      expected: 0.09898275605729691,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: 'four tubes of 41 mm', trust: 'own' },
    },
  ],
  // Angle and outlet only enter the length: any that are allowed do.
  compute: ({ tubes, tubeRadius }) =>
    derive(
      { size: collectorSize({ tubes, tubeRadius, halfAngle: 0.1, outletDiameter: tubeRadius }) },
      ({ size }) => size.bundleDiameter,
    ),
});
