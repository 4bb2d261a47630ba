import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { oxygenSensorAngle } from './rule.ts';

const subject = 'o1';
const degree = Math.PI / 180;

ruleTable(
  oxygenSensorAngle,
  [
    {
      kind: 'pass',
      name: 'a sensor on the upper side passes',
      subject,
      expect: 'pass',
      message: 'angle',
      value: 0.5,
      limit: 10 * degree,
    },
    {
      kind: 'fail',
      name: 'a sensor that hangs fails',
      subject,
      spec: { 'oxygenSensors.o1.elevation': -0.3 },
      expect: 'fail',
      message: 'angle',
    },
    {
      kind: 'boundary',
      name: 'ten degrees above horizontal',
      subject,
      move: 'oxygenSensors.o1.elevation',
      inside: 0.5,
      outside: 0,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 10 * degree,
      at: 10 * degree,
    },
    {
      kind: 'published',
      name: 'ten degrees is enough',
      subject,
      spec: { 'oxygenSensors.o1.elevation': 10 * degree },
      expect: 'pass',
      value: 10 * degree,
      citation: 'installation sheet of an oxygen sensor maker: at least 10 deg above horizontal',
    },
  ],
  { without: { validity: 'an angle holds for any sensor' } },
);
