import { choice, integer, quantity, text } from '../field.ts';

const mm = 1e-3;

/** The printer the mock-up is made on. */
export const workGroups = {
  mockUpPrinter: {
    spaceX: quantity('length', 'Plate length', [20 * mm, 3], 'Of the plastic printer, nominal.'),
    spaceY: quantity('length', 'Plate width', [20 * mm, 3], 'Of the plastic printer, nominal.'),
    spaceZ: quantity('length', 'Printing height', [20 * mm, 3], 'Usable above the plate.'),
    rim: quantity('length', 'Rim of the plate', [0, 0.1], 'Left free on each side, for brim and clips.'),
  },
} as const;

/** What is planned and measured while the header is made. */
export const workCollections = {
  chains: {
    name: text('Chain of joints', 40, 'Welds one after another between two fixed ends.'),
    joints: integer('Joints in the chain', [1, 50], 'All with the wall and weld stated here.'),
    wall: quantity('length', 'Wall in the chain', [0.5 * mm, 8 * mm], 'Of the tube welded.'),
    weldArea: quantity('area', 'Section of the weld', [1e-7, 2e-4], 'Of the bead with cap and root, across the seam.'),
    rootGap: quantity('length', 'Root gap in the chain', [0, 5 * mm], 'Planned; 0 for a closed butt.'),
    slack: quantity('length', 'Slack of the chain', [0, 20 * mm], 'Length added to the stubs for shrinkage.'),
  },
  faces: {
    name: text('Face', 40, 'Machined sealing face.'),
    extent: choice('Extent of the face', ['whole-flange', 'port', 'turbine-flange'], 'What was measured as one.'),
    flatness: quantity(
      'length',
      'Measured flatness',
      [0, 5 * mm],
      'Highest less lowest point about the least-squares plane.',
    ),
    points: integer('Points on the face', [3, 100000], 'How many the plane was fitted to.'),
    flatnessUncertainty: quantity('length', 'Uncertainty of the flatness', [0, 1 * mm], 'Of the gauge, one sigma.'),
  },
  facePoints: {
    name: text('Reading on a face', 40, 'Where on the face it was taken.'),
    face: text('Face of the reading', 40, 'Name of the face, as in its row.'),
    x: quantity('length', 'Reading along the face', [-3, 3], 'From any corner, the same for all readings of a face.'),
    y: quantity('length', 'Reading across the face', [-3, 3], 'From the same corner.'),
    height: quantity(
      'length',
      'Reading of the gauge',
      [-5 * mm, 5 * mm],
      'Height at that place; any zero, the same for all.',
    ),
  },
  dowels: {
    name: text('Dowel', 40, 'Where it sits.'),
    made: choice('Dowel hole', ['H7', 'H8', 'F8', 'filament', 'resin'], 'ISO class in metal, or printed in plastic.'),
    diameter: quantity('length', 'Dowel diameter', [1 * mm, 20 * mm], 'Nominal.'),
    hole: quantity('length', 'Measured hole', [0.5 * mm, 25 * mm], 'Smallest diameter found.'),
    pin: quantity('length', 'Measured pin', [0.5 * mm, 25 * mm], 'Largest diameter found.'),
    fitUncertainty: quantity('length', 'Uncertainty of the fit', [0, 1 * mm], 'Of hole less pin, one sigma.'),
  },
  mockUpPieces: {
    name: text('Mock-up piece', 40, 'As engraved on it.'),
    length: quantity('length', 'Piece length', [1 * mm, 3], 'Of the box round the piece.'),
    width: quantity('length', 'Piece width', [1 * mm, 3], 'Of the box round the piece.'),
    height: quantity('length', 'Piece height', [1 * mm, 3], 'Of the box round the piece.'),
  },
  witnesses: {
    name: text('Witness', 40, 'Printed in the same build.'),
    density: quantity('share', 'Measured density', [0.5, 1], 'Share of the solid alloy.'),
    densityUncertainty: quantity('share', 'Uncertainty of the density', [0, 0.05], 'One sigma.'),
  },
  printedWalls: {
    name: text('Printed wall', 40, 'Where it was measured.'),
    nominal: quantity('length', 'Nominal wall', [0.3 * mm, 20 * mm], 'As drawn.'),
    thinnest: quantity('length', 'Thinnest reading', [0, 20 * mm], 'Smallest of the readings at the place.'),
    wallUncertainty: quantity('length', 'Uncertainty of the wall', [0, 1 * mm], 'Of one reading, one sigma.'),
  },
  printedPieces: {
    name: text('Printed piece', 40, 'As engraved on it.'),
    piece: text(
      'Its piece',
      40,
      'Name of the piece among those to print; its part file is what the scan is compared with.',
    ),
    scan: text('Scan of the piece', 64, 'SHA-256 of the uploaded points; left empty, the report of its scan is typed.'),
    scanUnit: choice('Unit of the piece scan', ['mm', 'cm', 'm', 'in'], 'Unit of the numbers in the scan file.'),
    longest: quantity('length', 'Longest side of the piece', [1 * mm, 2], 'Of the box round it.'),
    size95: quantity(
      'length',
      'P95 of the deviation sizes',
      [0, 20 * mm],
      'From the report of its scan: 95 % of the deviations are smaller, sign left out.',
    ),
    scanPoints: integer('Points of the piece scan', [1, 1000000000], 'That were compared with the model.'),
    alignment: choice(
      'Alignment of the scan',
      ['datum-faces', 'best-fit'],
      'How scan and model were brought together.',
    ),
    scanUncertainty: quantity('length', 'Uncertainty of the piece scan', [0, 1 * mm], 'One sigma.'),
  },
} as const;
