import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { flangeGrowth } from './rule.ts';

const subject = 's2';

ruleTable(flangeGrowth, [
  { kind: 'pass', name: 'a near hole passes', subject, expect: 'pass', message: 'running', limit: 0.0005 },
  { kind: 'fail', name: 'a far hole fails', subject, spec: { 'holes.s2.x': 0.3 }, expect: 'fail', message: 'running' },
  {
    kind: 'boundary',
    name: 'growth, position tolerance and 0.1 mm use up the clearance',
    subject,
    move: 'holes.s2.x',
    inside: 0.05,
    outside: 0.3,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 0.0005,
    // (0.5 - 0.1 - 0.1) mm over the growth of a metre; expansion 13.3 + 0.4 x (400 - 316) / (427 - 316) um/m/K at 400 C.
    at: 0.0003 / ((13.3e-6 + (0.4e-6 * 84) / 111) * 380 - 22.5e-6 * 90),
    tolerance: 1e-9,
  },
  {
    kind: 'published',
    name: '625 flange at 450 C on an aluminium head at 110 C: an M8 stud in a 9.0 mm hole reaches 102 mm',
    subject,
    spec: { 'flange.temperature': 723.15, 'flange.positionTolerance': 0, 'holes.s2.x': 0.102328 },
    expect: 'pass',
    value: 0.0005,
    tolerance: 5e-3,
    citation: 'own arithmetic, vector 5.2 (max_half_length_M8_in_9mm 102.33 mm with mean expansion 13.8e-6 /K)',
  },
  {
    kind: 'pass',
    name: 'heat soak governs when the flange is hardly hotter than the head',
    subject,
    spec: { 'flange.temperature': 430, 'flange.holeDiameter': 0.0095 },
    expect: 'pass',
    message: 'soak',
    // 50 mm x (12.8 - 22.5)e-6 x 90 K, own; 625 at 110 C is 12.8 + 0.3 x 17 / 111 um/m/K.
    value: 0.05 * (22.5e-6 - (12.8e-6 + (0.3e-6 * 17) / 111)) * 90 + 0.0002,
  },
  { kind: 'notApplicable', name: 'the datum hole itself', subject: 's1', expect: 'notApplicable' },
  {
    kind: 'inconsistent',
    name: 'a datum hole that is not there',
    subject,
    spec: { 'flange.datumHole': 'S9' },
    expect: 'unknown',
    path: 'flange.datumHole',
  },
  {
    kind: 'inconsistent',
    name: 'two holes of the datum name',
    subject,
    spec: { 'holes.s2.name': 'S1' },
    expect: 'unknown',
    path: 'flange.datumHole',
  },
  {
    kind: 'validity',
    name: 'a flange hotter than the expansion table of 304',
    subject,
    spec: { 'flange.alloy': '304', 'flange.temperature': 1150 },
    expect: 'unknown',
  },
  {
    kind: 'fail',
    name: 'a hole smaller than the stud',
    subject,
    spec: { 'flange.holeDiameter': 0.0079 },
    expect: 'fail',
  },
]);
