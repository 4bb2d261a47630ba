import { choice, integer, quantity, text } from '../field.ts';
import { fillerOptions, weldMetalOptions } from './options.ts';

const mm = 1e-3;

/** What is welded and purged. */
export const weldCollections = {
  joints: {
    name: text('Joint', 40, 'Weld between two pieces.'),
    cylinder: integer('Joint on the runner of cylinder', [1, 16], 'The runner it goes round.'),
    along: quantity('length', 'Joint from the port', [0, 3], 'Along the centreline of the runner.'),
    turn: integer('Welded as number', [1, 200], 'Runners welded later are not in the way yet.'),
    wall: quantity('length', 'Wall at the joint', [0.5 * mm, 8 * mm], 'Thinner of the two sides.'),
    current: quantity('current', 'Mean current', [1, 400], 'Mean welding current.'),
    voltage: quantity('voltage', 'Arc voltage', [5, 40], 'Mean arc voltage.'),
    travelSpeed: quantity('velocity', 'Travel speed', [1e-4, 0.1], 'Along the seam.'),
    metalA: choice('Metal of one side', weldMetalOptions, 'Base metal, printed or wrought.'),
    metalB: choice('Metal of the other side', weldMetalOptions, 'Base metal, printed or wrought.'),
    filler: choice('Filler rod', fillerOptions, 'By AWS class.'),
    interpass: quantity(
      'temperature',
      'Highest interpass temperature',
      [253, 1000],
      'Of the metal beside the seam when the arc is struck again.',
    ),
    tungsten: quantity('length', 'Tungsten diameter', [0.5 * mm, 8 * mm], 'Of the electrode.'),
    stickOut: quantity('length', 'Tungsten stick-out', [0, 60 * mm], 'Mouth of the cup to the tip.'),
    cup: choice('Gas cup', ['collet-body', 'gas-lens'], 'A gas lens carries the gas further.'),
    outsideDiameter: quantity(
      'length',
      'Diameter at the joint',
      [5 * mm, 0.5],
      'Outside, of the tube that is welded round.',
    ),
    tacks: integer('Tacks', [1, 100], 'Evenly spaced round the joint.'),
    rootGap: quantity('length', 'Largest root gap', [0, 5 * mm], 'Between the two edges as fitted, by feeler.'),
    step: quantity('length', 'Largest step of the walls', [0, 5 * mm], 'High to low across the joint, as fitted.'),
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
