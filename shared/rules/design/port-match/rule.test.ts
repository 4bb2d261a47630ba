import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { portMatch } from './rule.ts';

const subject = 'ports';
/** Of the base runner: 44.5 mm outside, 2 mm wall. */
const boreArea = (Math.PI / 4) * 0.0405 ** 2;

ruleTable(
  portMatch,
  [
    {
      kind: 'pass',
      name: 'a small step on a port a little smaller passes',
      subject,
      expect: 'pass',
      message: 'match',
      value: 0.4,
      limit: 1,
    },
    {
      kind: 'fail',
      name: 'a gasket 1 mm in the flow fails',
      subject,
      spec: { 'port.step': 0.001 },
      expect: 'fail',
      message: 'match',
      value: 2,
    },
    {
      kind: 'boundary',
      name: 'a step of 0.5 mm',
      subject,
      move: 'port.step',
      inside: 0.0002,
      outside: 0.001,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 1,
      at: 0.0005,
    },
    {
      kind: 'boundary',
      name: 'a port as large as the runner',
      subject,
      move: 'port.area',
      inside: 0.0012,
      outside: 0.0014,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 1,
      at: boreArea,
    },
    {
      kind: 'boundary',
      name: 'a runner 1.15 times the port',
      subject,
      move: 'port.area',
      inside: 0.0012,
      outside: 0.001,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 1,
      at: boreArea / 1.15,
    },
    {
      kind: 'published',
      name: 'a 40.0 mm port on a 40.5 mm bore: 1.0252 times its area',
      subject,
      spec: { 'port.area': (Math.PI / 4) * 0.04 ** 2, 'port.step': 0 },
      expect: 'pass',
      value: (1.075 - 1.02515625) / 0.075,
      citation: 'own arithmetic: (40.5 / 40)^2 = 1.02515625, 66 % of the way from 1.075 to 1',
    },
    {
      kind: 'inconsistent',
      name: 'a wall that fills the tube',
      subject,
      spec: { 'tube.wall': 0.008, 'tube.outsideDiameter': 0.015 },
      expect: 'unknown',
      path: 'tube.wall',
    },
  ],
  { without: { validity: 'areas and steps hold for any size the fields allow' } },
);
