import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { wedgeClamp } from './rule.ts';

const subject = 'w1';
const clamp = (drive: number, friction: number) => drive / (Math.tan(Math.PI / 6 + Math.atan(friction)) + friction);

ruleTable(
  wedgeClamp,
  [
    {
      kind: 'pass',
      name: 'a locked wedge clamps enough when dry',
      subject,
      expect: 'pass',
      message: 'clamps',
      limit: 3500,
      value: clamp(6000, 0.3),
    },
    {
      kind: 'fail',
      name: 'a weak drive',
      subject,
      spec: { 'wedges.w1.drive': 3000 },
      expect: 'fail',
      message: 'clamps',
      value: clamp(3000, 0.3),
    },
    {
      kind: 'fail',
      name: '30 degrees slip when greased and not locked',
      subject,
      spec: { 'wedges.w1.lock': 'free' },
      expect: 'fail',
      message: 'slips',
      value: clamp(6000, 0.1) * (Math.tan(Math.atan(0.1) - Math.PI / 6) + 0.1),
      limit: 0,
    },
    {
      kind: 'pass',
      name: 'a flat wedge holds itself',
      subject,
      spec: { 'wedges.w1.lock': 'free', 'wedges.w1.angle': (11 * Math.PI) / 180 },
      expect: 'pass',
      message: 'clamps',
    },
    {
      kind: 'boundary',
      name: 'the force needed',
      subject,
      move: 'wedges.w1.drive',
      inside: 6000,
      outside: 1000,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 3500,
      at: (6000 * 3500) / clamp(6000, 0.3),
    },
    {
      kind: 'published',
      name: '5 kN on 30 degrees at friction 0.15',
      subject,
      spec: { 'wedges.w1.drive': 5000, 'wedges.w1.lowFriction': 0.15, 'wedges.w1.highFriction': 0.15 },
      expect: 'pass',
      value: 5283.664086,
      tolerance: 1e-6,
      citation: 'own arithmetic, vector 3.3; statics checked against a published wedge example',
    },
    {
      kind: 'inconsistent',
      name: 'a friction band upside down',
      subject,
      spec: { 'wedges.w1.lowFriction': 0.4 },
      expect: 'unknown',
      path: 'wedges.w1.highFriction',
    },
    {
      kind: 'inconsistent',
      name: 'a wedge too steep to drive',
      subject,
      spec: { 'wedges.w1.angle': 1.4 },
      expect: 'unknown',
    },
  ],
  { without: { validity: 'the form bounds force, angle and friction to where the statics hold' } },
);
