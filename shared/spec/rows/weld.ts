import { quantity, text } from '../field.ts';

const mm = 1e-3;

/** What is welded and purged. */
export const weldCollections = {
  joints: {
    name: text('Joint', 40, 'Weld between two pieces.'),
    wall: quantity('length', 'Wall at the joint', [0.5 * mm, 8 * mm], 'Thinner of the two sides.'),
    current: quantity('current', 'Mean current', [1, 400], 'Mean welding current.'),
    voltage: quantity('voltage', 'Arc voltage', [5, 40], 'Mean arc voltage.'),
    travelSpeed: quantity('velocity', 'Travel speed', [1e-4, 0.1], 'Along the seam.'),
  },
  purges: {
    name: text('Purge volume', 40, 'Closed volume that is purged as one.'),
    volume: quantity('volume', 'Volume', [1e-6, 1], 'Inside volume between the dams.'),
    flow: quantity('volumeFlow', 'Argon flow', [1e-7, 0.01], 'Flow at the inlet.'),
    target: quantity('concentration', 'Target oxygen', [1e-6, 0.05], 'At the vent before the arc is struck.'),
    residual: quantity(
      'concentration',
      'Oxygen in the gas',
      [0, 1e-3],
      'Of the purge gas as supplied; 5 to 10 ppm for welding grade.',
    ),
    deadLegFactor: quantity('ratio', 'Dead-leg factor', [1, 5], '1 for an open path, 1.5 to 3 with dead legs.'),
    prePurge: quantity('time', 'Stated pre-purge time', [0, 36000], 'What the process sheet will say.'),
  },
} as const;
