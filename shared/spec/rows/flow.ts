import { choice, integer, quantity, text } from '../field.ts';

const mm = 1e-3;
const degree = Math.PI / 180;

/** Where the gas comes from and goes to, the wall it heats, and the tests of the finished header. */
export const flowGroups = {
  port: {
    area: quantity('area', 'Port exit area', [1e-4, 0.01], 'Of one port at the head face, from a mould or a scan.'),
    step: quantity(
      'length',
      'Port step',
      [0, 10 * mm],
      'Largest edge of flange, gasket or tube standing into the flow.',
    ),
    elevation: quantity(
      'angle',
      'Port elevation',
      [-80 * degree, 80 * degree],
      'Port axis above the flange normal; negative when the port points down.',
    ),
    swing: quantity(
      'angle',
      'Port swing',
      [-80 * degree, 80 * degree],
      'Port axis out of the flange normal along the flange, towards larger x.',
    ),
  },
  outlet: {
    entries: integer('Turbine entries', [1, 2], '1 for a single turbine inlet, 2 for a divided one.'),
    halfAngle: quantity(
      'angle',
      'Collector half angle',
      [0, 60 * degree],
      'Angle of the collector legs or cone to the outlet axis.',
    ),
    directionX: quantity('ratio', 'Outlet direction x', [-1, 1], 'Part along the flange of the way the outlet points.'),
    directionY: quantity('ratio', 'Outlet direction y', [-1, 1], 'Part away from the head.'),
    directionZ: quantity('ratio', 'Outlet direction z', [-1, 1], 'Part upwards; -1 for an outlet straight down.'),
  },
  heat: {
    emissivity: quantity('share', 'Skin emissivity', [0.05, 1], 'Of the runner outside; oxidised 625 about 85 %.'),
    surroundings: quantity('temperature', 'Bay temperature', [253, 473], 'Air and walls round the header, at speed.'),
    pulsation: quantity(
      'ratio',
      'Pulsation factor',
      [1, 4],
      'How much pulses raise the heat transfer inside; 1.5 to 3 in runners, uncertain.',
    ),
  },
  leakTest: {
    joints: choice('Joints in the header', ['welded', 'slip-joints'], 'Whether any joint is a slip joint.'),
    volume: quantity('volume', 'Tested volume', [1e-5, 0.1], 'Closed off and filled with air.'),
    startPressure: quantity('pressure', 'Pressure at the start', [1e5, 5e5], 'Absolute.'),
    endPressure: quantity('pressure', 'Pressure at the end', [5e4, 5e5], 'Absolute.'),
    startTemperature: quantity('temperature', 'Air temperature at the start', [263, 333], 'Inside the volume.'),
    endTemperature: quantity('temperature', 'Air temperature at the end', [263, 333], 'Inside the volume.'),
    duration: quantity('time', 'Duration', [10, 86400], 'Between the two readings.'),
  },
  retorque: {
    date: text('Date of tightening again', 10, 'After the first heat cycles, as YYYY-MM-DD.'),
    cycles: integer('Heat cycles before it', [0, 1000], 'How often the header had been hot by then.'),
    torque: quantity('torque', 'Torque it was tightened to', [0.5, 300], 'At the nut, cold.'),
  },
} as const;

/** What there may be several of: collector inlets, sensors, measured clearances. */
export const flowCollections = {
  inlets: {
    name: text('Collector inlet', 40, 'Shown on screens and sheets.'),
    cylinder: integer('Inlet of cylinder', [1, 16], 'Cylinder whose runner ends here.'),
    x: quantity('length', 'Inlet x', [-3, 3], 'Centre of the inlet, along the flange.'),
    y: quantity('length', 'Inlet y', [-3, 3], 'Away from the head face.'),
    z: quantity('length', 'Inlet z', [-3, 3], 'Up.'),
    directionX: quantity('ratio', 'Inlet direction x', [-1, 1], 'Part along the flange of the way gas enters.'),
    directionY: quantity('ratio', 'Inlet direction y', [-1, 1], 'Part away from the head.'),
    directionZ: quantity('ratio', 'Inlet direction z', [-1, 1], 'Part upwards.'),
  },
  probes: {
    name: text('Temperature probe', 40, 'Gas temperature probe in a runner.'),
    distance: quantity('length', 'Distance from the head', [0, 2], 'Along the runner, head face to probe.'),
    insertion: quantity('length', 'Insertion', [0, 0.2], 'Inner wall to tip, across the bore.'),
  },
  taps: {
    name: text('Pressure tap', 40, 'Exhaust pressure tap ahead of the turbine.'),
    bore: quantity('length', 'Bore at the tap', [10 * mm, 200 * mm], 'Inside diameter of the pipe there.'),
    afterBend: quantity('length', 'Straight before the tap', [0, 2], 'From the last bend or merge to the tap.'),
    hole: quantity('length', 'Tap hole diameter', [0.2 * mm, 20 * mm], 'Where it meets the gas, deburred.'),
    standoff: quantity('length', 'Line to the transducer', [0, 5], 'Rising metal line before hose or transducer.'),
  },
  oxygenSensors: {
    name: text('Oxygen sensor', 40, 'Shown on screens and sheets.'),
    elevation: quantity(
      'angle',
      'Sensor elevation',
      [-90 * degree, 90 * degree],
      'Sensor axis above horizontal, cable end up.',
    ),
  },
  clearances: {
    name: text('Mock-up clearance', 40, 'Where it was measured.'),
    cylinder: integer('Runner of cylinder', [1, 16], 'Cylinder whose runner it was measured from.'),
    component: text('Component it was measured to', 60, 'Name of the bay component.'),
    gap: quantity('length', 'Measured gap', [0, 1], 'Smallest gap found on the mock-up, cold.'),
    uncertainty: quantity('length', 'Standard uncertainty', [0, 10 * mm], 'Of the gauge and the place, one sigma.'),
  },
  hotClearances: {
    name: text('Hot clearance', 40, 'Where it was measured.'),
    component: text('Hot component', 60, 'Name of the bay component it was measured to.'),
    gap: quantity('length', 'Measured hot gap', [0, 1], 'Smallest gap found with the header hot, engine still.'),
    uncertainty: quantity('length', 'Uncertainty of the hot gap', [0, 10 * mm], 'Gauge and place, one sigma.'),
  },
} as const;
