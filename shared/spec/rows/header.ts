import { choice, integer, material, quantity, sequence, text } from '../field.ts';
import { alloyOptions, propertyClassOptions, threadOptions } from './options.ts';

const mm = 1e-3;

/** The job, its engine and the header itself. Bounds are SI and say what can be typed, not what is wise. */
export const headerGroups = {
  project: {
    title: text('Job title', 120, 'What is being built, in one line.'),
    car: text('Car', 120, 'Car and class.'),
    event: text('Event date', 10, 'Fixed date the car has to make, as YYYY-MM-DD.'),
  },
  engine: {
    cylinders: integer('Cylinders', [1, 16], 'Number of cylinders that feed this header.'),
    firingOrder: sequence('Firing order', [1, 16], 16, 'Cylinder numbers in firing order, for example 1-2-4-5-3.'),
    firingIntervals: sequence(
      'Firing intervals',
      [1, 719],
      16,
      'Crank degrees from each cylinder of the firing order to the next, 720 in all: 144-144-144-144-144 when even.',
    ),
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
    alloy: material('Runner alloy', alloyOptions, 'Alloy of runners and collector, or an own material.'),
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
    outletDiameter: quantity(
      'length',
      'Outlet inside diameter',
      [20 * mm, 200 * mm],
      'Bore at the turbine inlet; of one entry when it is divided.',
    ),
  },
  flange: {
    alloy: material('Flange alloy', alloyOptions, 'Alloy of the head flange, or an own material.'),
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
    width: quantity('length', 'Flange width', [5 * mm, 0.3], 'Across the flange, at the ports.'),
    spanEnds: choice(
      'Flange between ports',
      ['continuous', 'cut'],
      'One piece past every stud, or sawn through between ports.',
    ),
  },
  head: {
    temperature: quantity('temperature', 'Head face temperature, hot', [293, 573], 'Beside the flange in a long pull.'),
    expansion: quantity(
      'expansion',
      'Head expansion coefficient',
      [5e-6, 30e-6],
      'Mean from 20 C; aluminium about 22.5e-6.',
    ),
    metal: choice('Head metal', ['aluminium', 'iron'], 'What the stud threads are tapped in.'),
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
    engagement: quantity('length', 'Thread engagement', [0, 0.1], 'Full threads of the stud in the head.'),
    preloadScatter: quantity(
      'share',
      'Preload scatter',
      [0, 0.6],
      'Either way from nominal; 25 to 35 % with a torque wrench.',
    ),
    preloadLoss: quantity(
      'share',
      'Preload lost',
      [0, 0.9],
      'To settling and relaxation before the next tightening; 20 % is usual on short studs.',
    ),
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
    brace: choice(
      'Turbo brace',
      ['none', 'braced'],
      'Braced: a strut holds the turbo against shaking in every direction.',
    ),
  },
} as const;

/** What the header has several of. */
export const headerCollections = {
  runners: {
    name: text('Runner', 40, 'Shown on screens and sheets.'),
    cylinder: integer('Cylinder', [1, 16], 'Cylinder this runner serves.'),
    entry: integer(
      'Turbine entry',
      [1, 2],
      'Which entry of a divided turbine inlet it feeds; a single inlet needs none.',
    ),
  },
  holes: {
    name: text('Hole', 40, 'Shown on screens and sheets.'),
    x: quantity('length', 'Along flange', [-2, 2], 'Position along the flange.'),
    z: quantity('length', 'Across flange', [-1, 1], 'Position across the flange.'),
  },
} as const;

/** Rows of a runner's node table: the first node is the port centre, the last the collector inlet; x along the flange, y away from the head, z up. */
export const nodeFields = {
  x: quantity('length', 'X', [-3, 3], 'Along the flange.'),
  y: quantity('length', 'Y', [-3, 3], 'Away from the head face.'),
  z: quantity('length', 'Z', [-3, 3], 'Up.'),
  radius: quantity('length', 'Bend radius', [0, 1], 'Centreline radius at this corner; the end nodes need none.'),
} as const;
