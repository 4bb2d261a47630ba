import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { flangeBow } from './rule.ts';

const subject = 'flange';
/** 625 at 400 C, between 191.7 GPa (316 C) and 185.5 GPa (427 C). */
const modulus = 191.7e9 - (6.2e9 * 84) / 111;
const load = ((2 * 20) / (0.15 * 0.008)) * 1.3;
const bow = (pitch: number, factor = 1) => (factor * load * pitch ** 3) / (32 * modulus * 0.08 * 0.01 ** 3);

ruleTable(flangeBow, [
  {
    kind: 'pass',
    name: 'studs near each other',
    subject,
    expect: 'pass',
    message: 'span',
    limit: 0.05e-3,
    value: bow(0.05),
  },
  { kind: 'fail', name: 'studs far apart', subject, spec: { 'holes.s2.x': 0.2 }, expect: 'fail', message: 'span' },
  {
    kind: 'fail',
    name: 'a flange cut between ports bows five times as far',
    subject,
    spec: { 'flange.spanEnds': 'cut' },
    expect: 'fail',
    value: bow(0.05, 5),
  },
  {
    kind: 'boundary',
    name: 'the recovery of the gasket',
    subject,
    move: 'holes.s2.x',
    inside: 0.05,
    outside: 0.3,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 0.05e-3,
    at: 0.05 * (0.05e-3 / bow(0.05)) ** (1 / 3),
  },
  {
    kind: 'published',
    name: '15 kN over 90 mm of a flange 50 x 10, 0.041 mm',
    subject,
    spec: {
      'flange.temperature': 973.15,
      'flange.width': 0.05,
      'holes.s2.x': 0.09,
      'stud.torque': 9,
      'stud.preloadScatter': 0,
    },
    expect: 'pass',
    value: 0.041e-3,
    tolerance: 2e-2,
    citation: 'own arithmetic, gasket notes: fixed ends, E 165 GPa, 10 mm thick',
  },
  {
    kind: 'pass',
    name: 'a stud on the other side of the ports is no neighbour',
    subject,
    spec: { 'holes.s3': 3, 'holes.s3.x': 0.04, 'holes.s3.z': -0.03 },
    expect: 'pass',
    value: bow(0.05),
  },
  {
    kind: 'pass',
    name: 'the longest of several spans governs, whatever their order',
    subject,
    spec: { 'holes.s3': 3, 'holes.s3.x': -0.06, 'holes.s3.z': 0.03 },
    expect: 'pass',
    value: bow(0.06),
  },
  {
    kind: 'validity',
    name: 'a flange hotter than the modulus table of 304',
    subject,
    spec: { 'flange.alloy': '304', 'flange.temperature': 1150 },
    expect: 'unknown',
    path: 'modulus of alloy 304',
  },
  {
    kind: 'inconsistent',
    name: 'one stud on either side',
    subject,
    spec: { 'holes.s2.z': -0.03 },
    expect: 'unknown',
    path: 'holes',
  },
]);
