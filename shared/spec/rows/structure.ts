import { choice, integer, quantity, text } from '../field.ts';
import { gasketOptions } from './options.ts';

const mm = 1e-3;

/** How the header is made, what it has to last, and the gasket it is clamped on. */
export const structureGroups = {
  route: {
    made: choice('Route', ['printed', 'fabricated', 'both'], 'How the header is made; both keeps the two open.'),
  },
  service: {
    hotLife: quantity('time', 'Life at full heat', [360, 3.6e8], 'Time at the stated wall temperature it has to last.'),
    lowSpeed: quantity('rotation', 'Lowest running speed', [5, 300], 'Crank speed from which the engine is loaded.'),
    topSpeed: quantity('rotation', 'Highest running speed', [10, 300], 'Crank speed at the limiter.'),
    otherMass: quantity(
      'mass',
      'Mass of the other parts',
      [0, 50],
      'Flange, collector and hardware, all but runner tube.',
    ),
    massTarget: quantity('mass', 'Target mass', [0.5, 60], 'Of the finished header.'),
  },
  cutting: {
    method: choice('Bends are', ['cut-and-weld', 'rotary-draw'], 'Cut from stock bends, or drawn in one piece.'),
    kerf: quantity('length', 'Saw cut', [0.1 * mm, 10 * mm], 'Width of metal the saw takes.'),
    tubeLength: quantity('length', 'Stock tube length', [0.1, 12], 'Of one straight length on the shelf.'),
    tubeCount: integer('Stock tubes', [1, 100], 'Straight lengths on the shelf.'),
    fixtureReach: quantity(
      'length',
      'Fixture reach',
      [0.05, 3],
      'From the middle of the ports to the farthest place it can hold a runner end.',
    ),
    sheetLength: quantity('length', 'Template sheet length', [0.1, 2], 'Longer side of the paper; A4 is 297 mm.'),
    sheetWidth: quantity('length', 'Template sheet width', [0.1, 2], 'Shorter side of the paper; A4 is 210 mm.'),
  },
  gasket: {
    kind: choice('Gasket', gasketOptions, 'Decides the seating stress; a lapped face counts as solid metal.'),
    insideDiameter: quantity('length', 'Gasket inside diameter', [5 * mm, 0.2], 'Of the sealing ring round one port.'),
    outsideDiameter: quantity(
      'length',
      'Gasket outside diameter',
      [5 * mm, 0.3],
      'Of the sealing ring round one port.',
    ),
    crush: quantity(
      'stress',
      'Greatest gasket stress',
      [1e6, 1e9],
      'Mean stress the maker allows; graphite about 103 MPa.',
    ),
    recovery: quantity(
      'length',
      'Gasket recovery',
      [0, 1 * mm],
      'How far it springs back; 0.05 mm where the maker says nothing.',
    ),
    studs: integer('Studs for one port', [1, 8], 'How many clamp one sealing ring.'),
  },
} as const;

/** Joints that slide, flanges that are wedged, and what tube is cut from. */
export const structureCollections = {
  slipJoints: {
    name: text('Slip joint', 40, 'Shown on screens and sheets.'),
    cylinder: integer('Slip joint of cylinder', [1, 16], 'Cylinder whose runner it is in.'),
    diameter: quantity('length', 'Slip diameter', [10 * mm, 0.15], 'Of the sliding fit, nominal.'),
    clearance: quantity('length', 'Cold clearance', [0, 2 * mm], 'On the diameter, as made.'),
    innerTemperature: quantity('temperature', 'Inner tube, hot', [293, 1373], 'Of the tube that slides inside.'),
    outerTemperature: quantity('temperature', 'Outer tube, hot', [293, 1373], 'Of the tube it slides in.'),
    stroke: quantity('length', 'Free stroke', [0.1 * mm, 0.1], 'Cold travel before it bottoms.'),
  },
  stockBends: {
    name: text('Stock bend', 40, 'Bends of one kind on the shelf.'),
    radius: quantity('length', 'Stock bend radius', [10 * mm, 1], 'Of the centreline.'),
    angle: quantity('angle', 'Stock bend angle', [0.1, 3.15], 'Of one bend as bought.'),
    count: integer('Stock bends', [1, 100], 'How many are there; no row when there are none.'),
  },
  mitres: {
    name: text('Mitred bend', 40, 'Bend made of cut wedges.'),
    angle: quantity('angle', 'Mitred angle', [0.01, Math.PI], 'Of the whole bend.'),
    radius: quantity('length', 'Mitred radius', [10 * mm, 1], 'Of the centreline.'),
    joints: integer('Mitre joints', [1, 60], 'Welds of the bend; each end wedge is cut on its straight.'),
  },
  copes: {
    name: text('Cope', 40, 'Tube cut to sit on another.'),
    mainDiameter: quantity('length', 'Main tube diameter', [10 * mm, 0.3], 'Outside, of the tube it sits on.'),
    angle: quantity('angle', 'Cope angle', [0.1, Math.PI / 2], 'Between the two axes.'),
    offset: quantity('length', 'Cope offset', [-0.1, 0.1], 'Between the two axes, across.'),
  },
  wedges: {
    name: text('Wedge flange', 40, 'Flange clamped by a driven wedge.'),
    drive: quantity('force', 'Wedge drive force', [0, 1e5], 'Along the sealing face, from the drive screw.'),
    angle: quantity('angle', 'Wedge angle', [0.01, 1.4], 'From the sealing plane, not from the screw.'),
    lowFriction: quantity('ratio', 'Lowest friction', [0, 0.6], 'Greased 0.10 to 0.15.'),
    highFriction: quantity('ratio', 'Highest friction', [0, 0.6], 'Dry, hot and oxidised 0.3 to 0.6.'),
    lock: choice('Wedge drive', ['locked', 'free'], 'Locked: the screw cannot turn back by itself.'),
    need: quantity('force', 'Clamp force needed', [0, 2e5], 'To seat the gasket of this flange.'),
  },
} as const;
