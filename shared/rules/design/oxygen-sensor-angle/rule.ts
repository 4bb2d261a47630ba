import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

const limit = (10 * Math.PI) / 180;

/** How far each oxygen sensor stands above horizontal. */
export const oxygenSensorAngle = defineRule({
  id: 'oxygen-sensor-angle',
  gate: 'design',
  title: 'Require oxygen sensors to stand above horizontal',
  severity: 'block',
  adjustable: false,
  branches: ['oxygenSensors'],
  cost: 'cheap',
  quantity: 'angle',
  limit: 'sensor axis >= 10 deg above horizontal, cable end up',
  source: { document: 'installation sheet of an oxygen sensor maker', trust: 'excerpt' },
  validity: 'Car on level ground; sensors after the turbine. The temperature at the sensor is not checked.',
  hazard:
    'Water that gathers in a low sensor cracks the hot ceramic: no lambda reading, and fuel is steered by a dead sensor.',
  remedy: 'Turn the boss up round the pipe.',
  messages: { angle: 'Sensor axis {elevation} above horizontal.' },
  since: 1,
  subjects: ({ oxygenSensors }): readonly RowSubject<'oxygenSensors'>[] =>
    oxygenSensors.map((row) => ({ kind: 'sensor', id: row.id, name: nameOf(row), row })),
  reads: (_context, { row }) => ({
    elevation: at<number>(`oxygenSensors.${row.id}.elevation`, row.elevation),
  }),
  evaluate: ({ elevation }) =>
    judge(elevation, { limit: { kind: 'min', value: limit }, message: 'angle', data: { elevation } }),
});
