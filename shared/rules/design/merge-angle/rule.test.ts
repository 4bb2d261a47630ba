import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { mergeAngle } from './rule.ts';

const subject = 'r1';
const degree = Math.PI / 180;
/** An outlet axis `angle` off the runner's last leg, which points straight up. */
const tilted = (angle: number) => ({ 'outlet.directionY': Math.sin(angle), 'outlet.directionZ': Math.cos(angle) });

ruleTable(
  mergeAngle,
  [
    {
      kind: 'pass',
      name: 'a slim collector on parallel legs passes',
      subject,
      expect: 'pass',
      message: 'angles',
      value: 0.17,
      limit: 30 * degree,
    },
    {
      kind: 'fail',
      name: 'a leg across the outlet fails whatever the cone',
      subject,
      spec: tilted(Math.PI / 2),
      expect: 'fail',
      message: 'angles',
      value: Math.PI / 2,
    },
    {
      kind: 'boundary',
      name: 'caution starts above 20 deg',
      subject,
      move: 'outlet.halfAngle',
      inside: 0.1,
      outside: 0.4,
      expectInside: 'pass',
      expectOutside: 'caution',
      limit: 20 * degree,
      at: 20 * degree,
    },
    {
      kind: 'boundary',
      name: 'failure starts above 30 deg',
      subject,
      move: 'outlet.halfAngle',
      inside: 0.4,
      outside: 0.6,
      expectInside: 'caution',
      expectOutside: 'fail',
      limit: 30 * degree,
      at: 30 * degree,
    },
    {
      kind: 'published',
      name: 'straight legs of the worked four-into-one at 7.5 deg',
      subject,
      spec: { ...tilted(7.5 * degree), 'outlet.halfAngle': 7.5 * degree },
      expect: 'pass',
      value: 7.5 * degree,
      citation: 'own, example E-33: half angle 7.5 deg, 44.5 mm tubes',
    },
    {
      kind: 'pass',
      name: 'the length of the direction does not matter',
      subject,
      spec: { 'outlet.directionY': 0.05, 'outlet.directionZ': 0.5, 'outlet.halfAngle': 0 },
      expect: 'pass',
      value: Math.atan(0.1),
    },
    {
      kind: 'inconsistent',
      name: 'an outlet that points nowhere',
      subject,
      spec: { 'outlet.directionZ': 0 },
      expect: 'unknown',
      path: 'outlet.directionX',
    },
  ],
  { without: { validity: 'an angle between two directions holds for any directions' } },
);
