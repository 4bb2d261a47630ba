/** Ports, collector, heat, sensors and tests of the demo job. All data is invented; SI values. One mock-up clearance disagrees with the model on purpose. */

const degree = Math.PI / 180;
const kelvin = (celsius: number): number => celsius + 273.15;

/** Fields of the groups. */
export const flowFields: Readonly<Record<string, unknown>> = {
  'engine.firingIntervals': '144-144-144-144-144',
  'port.area': 0.00108,
  'port.step': 0.0003,
  'port.elevation': -3.5 * degree,
  'port.swing': 0,
  'outlet.entries': 1,
  'outlet.halfAngle': 9 * degree,
  'outlet.directionX': 0,
  'outlet.directionY': 0,
  'outlet.directionZ': -1,
  'heat.emissivity': 0.87,
  'heat.surroundings': kelvin(70),
  'heat.pulsation': 1.1,
  'leakTest.joints': 'welded',
  'leakTest.volume': 0.0041,
  'leakTest.startPressure': 151300,
  'leakTest.endPressure': 151150,
  'leakTest.startTemperature': kelvin(21.4),
  'leakTest.endTemperature': kelvin(21.3),
  'leakTest.duration': 600,
  // The date of tightening again is still to come.
  'retorque.cycles': 3,
  'retorque.torque': 18,
};

/** A row of a collection: its path without the branch, and its fields. */
export type FlowRow = readonly [branch: string, id: string, values: Readonly<Record<string, unknown>>];

/** Where a runner ends, metres. */
export type RunnerEnd = readonly [cylinder: number, at: readonly [number, number, number]];

/** Rows of the collections; the inlets stand where the runners end, all pointing straight down. */
export function flowRows(ends: readonly RunnerEnd[]): readonly FlowRow[] {
  return [
    ...ends.map(
      ([cylinder, [x, y, z]]): FlowRow => [
        'inlets',
        `i${cylinder}`,
        { name: `Inlet ${cylinder}`, cylinder, x, y, z, directionX: 0, directionY: 0, directionZ: -1 },
      ],
    ),
    ['probes', 'egt-3', { name: 'Gas temperature, runner 3', distance: 0.062, insertion: 0.019 }],
    ['taps', 'tap-1', { name: 'Pressure before turbine', bore: 0.0627, afterBend: 0.15, hole: 0.0022, standoff: 0.42 }],
    ['oxygenSensors', 'downpipe', { name: 'Downpipe', elevation: 22 * degree }],
    [
      'clearances',
      'r3-brake',
      { name: 'Runner 3 to the brake line', cylinder: 3, component: 'Brake line', gap: 0.1004, uncertainty: 0.001 },
    ],
    [
      'clearances',
      'r4-block',
      { name: 'Runner 4 to the block', cylinder: 4, component: 'Block side', gap: 0.041, uncertainty: 0.001 },
    ],
    [
      'hotClearances',
      'hot-rail',
      { name: 'Runner 1 to the frame rail', component: 'Frame rail', gap: 0.061, uncertainty: 0.001 },
    ],
  ];
}
