import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { portLeaveAngle } from './rule.ts';

const subject = 'r1';
const degree = Math.PI / 180;

ruleTable(
  portLeaveAngle,
  [
    {
      kind: 'pass',
      name: 'a first leg along the port passes',
      subject,
      expect: 'pass',
      message: 'kink',
      value: 0,
      limit: 5 * degree,
    },
    {
      kind: 'fail',
      name: 'a port that points down under a level leg cautions',
      subject,
      spec: { 'port.elevation': -30 * degree },
      expect: 'caution',
      message: 'kink',
      value: 30 * degree,
    },
    {
      kind: 'boundary',
      name: 'five degrees of elevation',
      subject,
      move: 'port.elevation',
      inside: 0,
      outside: 0.2,
      expectInside: 'pass',
      expectOutside: 'caution',
      limit: 5 * degree,
      at: 5 * degree,
    },
    {
      kind: 'boundary',
      name: 'five degrees of swing',
      subject,
      move: 'port.swing',
      inside: 0,
      outside: -0.2,
      expectInside: 'pass',
      expectOutside: 'caution',
      limit: 5 * degree,
      at: -5 * degree,
    },
    {
      kind: 'published',
      name: 'a leg that climbs 15 mm in 150 leaves at 5.71 deg',
      subject,
      spec: { 'runners.r1.nodes.n2.z': 0.015 },
      expect: 'caution',
      value: 5.710593 * degree,
      tolerance: 1e-6,
      citation: 'own arithmetic: atan 0.1',
    },
    {
      kind: 'pass',
      name: 'the port may climb with it',
      subject,
      spec: { 'runners.r1.nodes.n2.z': 0.015, 'port.elevation': 5 * degree },
      expect: 'pass',
      value: 0.710593 * degree,
      tolerance: 1e-5,
    },
  ],
  { without: { validity: 'an angle between two directions holds for any directions' } },
);
