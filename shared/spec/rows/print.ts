import { choice, integer, quantity, text } from '../field.ts';
import { machinedFaceOptions, printAlloyOptions, reliefOptions, separationOptions } from './options.ts';

const mm = 1e-3;
const hour = 3600;
const degree = Math.PI / 180;

/** The metal printer and what is set on it. */
export const printGroups = {
  printer: {
    spaceX: quantity('length', 'Build length', [20 * mm, 2], 'Of the plate, nominal.'),
    spaceY: quantity('length', 'Build width', [20 * mm, 2], 'Of the plate, nominal.'),
    spaceZ: quantity('length', 'Build height', [20 * mm, 2], 'From the plate up, nominal.'),
    edge: quantity('length', 'Edge kept free', [0, 0.1], 'On each side of the plate; usually 5 to 10 mm.'),
    plate: quantity(
      'length',
      'Height lost to the plate',
      [0, 0.1],
      'Plate thickness and clearance; usually 25 to 45 mm.',
    ),
    layer: quantity('length', 'Layer', [5e-6, 2e-4], 'Layer thickness of the parameter set.'),
    scanSpeed: quantity('velocity', 'Laser scan speed', [0.01, 10], 'Of the parameter set.'),
    hatch: quantity('length', 'Hatch distance', [1e-5, 5e-4], 'Between laser tracks.'),
    efficiency: quantity(
      'ratio',
      'Melting efficiency',
      [0.05, 12],
      'Real over ideal rate, 0.5 to 0.8, times the lasers.',
    ),
    recoat: quantity('time', 'Recoat time', [1, 120], 'Per layer; 7 to 15 s, usually 10.'),
    overhead: quantity('duration', 'Warm-up and unloading', [0, 1e6], 'Inerting, warm-up, cool-down, unloading.'),
    longest: quantity('duration', 'Longest build', [0.1 * hour, 2000 * hour], 'What the bureau runs in one go.'),
    stock: quantity('mass', 'Powder in stock', [0, 5000], 'Of one lot, sieved and dry.'),
    packing: quantity('share', 'Packing of the bed', [0.3, 0.75], 'Share of the bed that is metal; 55 to 60 %.'),
    dosing: quantity('ratio', 'Dosing', [1, 3], 'Powder dosed over powder laid; 1.3 to 2.'),
    separation: choice('Cut off by', separationOptions, 'How pieces come off the plate.'),
    relief: choice('Stress relief', reliefOptions, 'When it is done; on the plate, before anything is cut.'),
  },
} as const;

/** What is made in one piece, and its faces that are machined. */
export const printCollections = {
  pieces: {
    name: text('Piece', 40, 'As engraved on it.'),
    mesh: text('Part file', 64, 'SHA-256 of the uploaded part.'),
    meshUnit: choice(
      'Part unit',
      ['mm', 'cm', 'm', 'in'],
      'Unit of the numbers in the part file, where the file does not say.',
    ),
    use: choice(
      'What becomes of it',
      ['printed', 'bought'],
      'Printed: judged for its printing. Bought: in the bay with the header.',
    ),
    alloy: choice('Powder', printAlloyOptions, 'Sets the least self-supporting angle.'),
    turnX: quantity(
      'angle',
      'Build turn about X',
      [-180 * degree, 180 * degree],
      'Turned first, from the part file to the plate.',
    ),
    turnY: quantity('angle', 'Build turn about Y', [-180 * degree, 180 * degree], 'Turned second.'),
    turnZ: quantity('angle', 'Build turn about Z', [-180 * degree, 180 * degree], 'Turned last, on the plate.'),
    lift: quantity('length', 'Height above the plate', [0, 50 * mm], 'Of the lowest point: what the cut takes.'),
    supports: choice('Supports', ['none', 'removable'], 'Removable: planned where they can be reached and taken off.'),
    copies: integer('Copies in the build', [1, 50], 'Of this piece.'),
  },
  machinedFaces: {
    name: text('Machined face', 40, 'Face that is cut after printing.'),
    kind: choice('Sort of face', machinedFaceOptions, 'Sets the stock it needs.'),
    stock: quantity('length', 'Stock on the face', [0, 20 * mm], 'Metal left to cut away; on the diameter for a hole.'),
  },
} as const;
