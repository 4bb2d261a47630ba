import { choice, type FieldGroup, integer, quantity, sequence, text } from './field.ts';

/** The rows of the spec: the forms, the validator, the JSON Schema and the help all read these. Bounds are what the reader accepts, SI. */

const mm = 1e-3;

/** Alloys whose hot properties the rules know. */
export const alloyOptions = ['625', '321', '304'] as const;
/** Threads in the stud table (ISO 724 sizes). */
export const threadOptions = ['M6', 'M8', 'M8x1', 'M10', 'M10x1.25', 'M12', 'M12x1.5'] as const;
/** Property classes and stud materials with a hot yield table. */
export const propertyClassOptions = ['8.8', '10.9', '12.9', 'A2-70', 'A4-80'] as const;
/** What a bay component can stand, coarsely. */
export const heatClassOptions = [
  'bare-metal',
  'oil-backed-cover',
  'structure',
  'steering',
  'brake-line',
  'wiring',
  'hose',
  'painted-panel',
  'composite-panel',
] as const;

/** Branches that exist once in a spec, with their fields. Bounds are SI and say what can be typed, not what is wise. */
export const groups = {
  project: {
    title: text('Job title', 120, 'What is being built, in one line.'),
    car: text('Car', 120, 'Car and class.'),
    event: text('Event date', 10, 'Fixed date the car has to make, as YYYY-MM-DD.'),
  },
  engine: {
    cylinders: integer('Cylinders', [1, 16], 'Number of cylinders that feed this header.'),
    firingOrder: sequence('Firing order', [1, 16], 16, 'Cylinder numbers in firing order, for example 1-2-4-5-3.'),
    displacement: quantity('volume', 'Displacement', [5e-5, 0.02], 'Swept volume of the whole engine.'),
    peakSpeed: quantity('rotation', 'Speed at peak power', [10, 300], 'Crank speed at which gas flow is checked.'),
    volumetricEfficiency: quantity('share', 'Volumetric efficiency', [0.3, 1.5], 'On intake-manifold density.'),
    manifoldPressure: quantity('pressure', 'Intake manifold pressure', [3e4, 6e5], 'Absolute, at peak power.'),
    manifoldTemperature: quantity('temperature', 'Intake manifold temperature', [250, 450], 'After the charge cooler.'),
    lambda: quantity('ratio', 'Lambda', [0.7, 1.5], 'Excess-air ratio at peak power.'),
    stoichiometricAirFuel: quantity('ratio', 'Stoichiometric air/fuel', [5, 18], 'By mass; 14.7 for pump gasoline.'),
    exhaustTemperature: quantity('temperature', 'Exhaust gas temperature', [400, 1500], 'At the port, peak power.'),
    exhaustPressure: quantity('pressure', 'Exhaust pressure before turbine', [8e4, 8e5], 'Absolute mean, peak power.'),
    rock: quantity('length', 'Engine rock at the header', [0, 0.05], 'Largest movement of the header on its mounts.'),
  },
  tube: {
    alloy: choice('Runner alloy', alloyOptions, 'Alloy of runners and collector.'),
    outsideDiameter: quantity(
      'length',
      'Runner outside diameter',
      [10 * mm, 120 * mm],
      'Outside diameter of every runner.',
    ),
    wall: quantity('length', 'Runner wall', [0.5 * mm, 8 * mm], 'Nominal wall.'),
    wallTemperature: quantity('temperature', 'Runner wall temperature', [293, 1373], 'Hottest steady wall expected.'),
    roughness: quantity('length', 'Inside roughness', [0, 0.5 * mm], 'Equivalent sand-grain roughness of the bore.'),
  },
  collector: {
    mergeLength: quantity(
      'length',
      'Merge length',
      [0, 0.5],
      'Length at the runner ends inside which runners may touch.',
    ),
    outletDiameter: quantity('length', 'Outlet inside diameter', [20 * mm, 200 * mm], 'Bore at the turbine inlet.'),
  },
  flange: {
    alloy: choice('Flange alloy', alloyOptions, 'Alloy of the head flange.'),
    temperature: quantity(
      'temperature',
      'Flange temperature, hot',
      [293, 1173],
      'Mean flange temperature in a long pull.',
    ),
    thickness: quantity('length', 'Flange thickness', [3 * mm, 40 * mm], 'After facing.'),
    holeDiameter: quantity('length', 'Stud hole diameter', [4 * mm, 25 * mm], 'Of every hole but the datum hole.'),
    positionTolerance: quantity('length', 'Hole position tolerance', [0, 2 * mm], 'Radial, hole to stud.'),
    datumHole: text('Datum hole', 40, 'Name of the close-fitting hole that growth is measured from.'),
  },
  head: {
    temperature: quantity('temperature', 'Head face temperature, hot', [293, 573], 'Beside the flange in a long pull.'),
    expansion: quantity(
      'expansion',
      'Head expansion coefficient',
      [5e-6, 30e-6],
      'Mean from 20 C; aluminium about 22.5e-6.',
    ),
  },
  stud: {
    thread: choice('Stud thread', threadOptions, 'Metric thread of the head studs.'),
    propertyClass: choice('Stud property class', propertyClassOptions, 'ISO 898-1 or ISO 3506-1 class.'),
    torque: quantity('torque', 'Tightening torque', [0.5, 300], 'At the nut.'),
    nutFactor: quantity(
      'ratio',
      'Nut factor K',
      [0.05, 0.5],
      'From torque = K x preload x diameter; lubricated 0.13 to 0.18.',
    ),
    temperature: quantity('temperature', 'Stud temperature, hot', [293, 973], 'Mean stud temperature in a long pull.'),
  },
  turbo: {
    mass: quantity('mass', 'Turbo mass', [0.5, 60], 'With housing, clamps and what hangs on it.'),
    arm: quantity('length', 'Arm to the centre of gravity', [0, 1], 'From the loaded runner root.'),
    dynamicFactor: quantity(
      'ratio',
      'Dynamic factor',
      [1, 30],
      'Peak load of jolts in units of gravity, on top of the steady 1 g; 5 to 10 is common practice.',
    ),
    unsupportedShare: quantity('share', 'Share carried by the header', [0, 1], 'What braces and pipes do not carry.'),
    sharingRunners: integer('Runners sharing the load', [1, 16], 'How many runner roots carry it together.'),
    jointFactor: quantity(
      'ratio',
      'Joint stress factor',
      [1, 5],
      'Stress raiser of the root weld; 1.5 to 2 is common practice.',
    ),
  },
  bay: {
    scanUncertainty: quantity(
      'length',
      'Scan standard uncertainty',
      [0, 5 * mm],
      'Scan, registration and model together, one sigma.',
    ),
  },
} as const satisfies Readonly<Record<string, FieldGroup>>;

/** Branches with any number of rows, with the fields of a row. */
export const collections = {
  runners: {
    name: text('Runner', 40, 'Shown on screens and sheets.'),
    cylinder: integer('Cylinder', [1, 16], 'Cylinder this runner serves.'),
  },
  holes: {
    name: text('Hole', 40, 'Shown on screens and sheets.'),
    x: quantity('length', 'Along flange', [-2, 2], 'Position along the flange.'),
    z: quantity('length', 'Across flange', [-1, 1], 'Position across the flange.'),
  },
  components: {
    name: text('Bay component', 60, 'Name of the thing in the scan.'),
    heatClass: choice('Heat class', heatClassOptions, 'What it can stand; sets the clearance limit.'),
    scan: text('Scan file', 64, 'SHA-256 of the uploaded points.'),
    scanUnit: choice('Scan unit', ['mm', 'cm', 'm', 'in'], 'Unit of the numbers in the scan file.'),
  },
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
} as const satisfies Readonly<Record<string, FieldGroup>>;

/** Rows of a runner's node table: the first node is the port centre, the last the collector inlet; x along the flange, y away from the head, z up. */
export const nodeFields = {
  x: quantity('length', 'X', [-3, 3], 'Along the flange.'),
  y: quantity('length', 'Y', [-3, 3], 'Away from the head face.'),
  z: quantity('length', 'Z', [-3, 3], 'Up.'),
  radius: quantity('length', 'Bend radius', [0, 1], 'Centreline radius at this corner; the end nodes need none.'),
} as const satisfies FieldGroup;

/** Headings of the branches as shown. */
export const groupTitles: Readonly<Record<keyof typeof groups | keyof typeof collections, string>> = {
  project: 'Job',
  engine: 'Engine',
  tube: 'Runner tube',
  collector: 'Collector',
  flange: 'Head flange',
  head: 'Cylinder head',
  stud: 'Studs',
  turbo: 'Turbo',
  bay: 'Bay and scan',
  runners: 'Runners',
  holes: 'Stud holes',
  components: 'Bay components',
  joints: 'Joints',
  purges: 'Purge volumes',
};
