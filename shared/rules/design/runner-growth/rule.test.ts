import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { runnerGrowth } from './rule.ts';

/** 625: expansion at 700 C and 400 C, modulus and yield at 700 C, straight between the table rows. */
const yieldStrength = 340e6 - (10e6 * 51) / 111;
const modulus = 170.3e9 - (9.7e9 * 51) / 111;
const strain = 0.00025255945945945943 / 0.05;
const reach = Math.hypot(0.15, 0.25);

ruleTable(runnerGrowth, [
  {
    kind: 'pass',
    name: 'a runner near the middle flexes',
    subject: 'r1',
    expect: 'pass',
    message: 'flexes',
    limit: 1,
    value: (3 * modulus * 0.0445 * strain * 0.05) / reach ** 2 / yieldStrength,
    tolerance: 1e-6,
  },
  { kind: 'pass', name: 'a slip joint with room', subject: 'r2', expect: 'pass', message: 'slides', limit: 1 },
  {
    kind: 'fail',
    name: 'a stroke shorter than the growth',
    subject: 'r2',
    spec: { 'slipJoints.l1.stroke': 0.003 },
    expect: 'fail',
    message: 'slides',
  },
  {
    kind: 'fail',
    name: 'a port far from the others on a short runner',
    subject: 'r1',
    spec: { 'runners.r1.nodes.n1.x': -1, 'runners.r1.nodes.n2.x': -1, 'runners.r1.nodes.n3.x': -1 },
    expect: 'fail',
    message: 'flexes',
  },
  {
    kind: 'boundary',
    name: 'hot yield is as far as it may bend',
    subject: 'r1',
    move: 'tube.outsideDiameter',
    spec: { 'runners.r2.nodes.n1.x': 0.4 },
    inside: 0.03,
    outside: 0.11,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 1,
    at: (yieldStrength * reach ** 2) / (3 * modulus * strain * 0.2),
    tolerance: 1e-6,
  },
  {
    kind: 'boundary',
    name: 'the whole stroke',
    subject: 'r2',
    move: 'slipJoints.l1.stroke',
    inside: 0.008,
    outside: 0.003,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 1,
  },
  {
    kind: 'published',
    name: 'a 600 mm primary of 625 at 850 C grows 7.8 mm',
    subject: 'r2',
    spec: {
      'tube.wallTemperature': 1123.15,
      'slipJoints.l1.stroke': 0.01,
      'runners.r2.nodes.n2': undefined,
      'runners.r2.nodes.n2.x': undefined,
      'runners.r2.nodes.n2.y': undefined,
      'runners.r2.nodes.n2.z': undefined,
      'runners.r2.nodes.n2.radius': undefined,
      'runners.r2.nodes.n3.y': 0.6,
      'runners.r2.nodes.n3.z': 0,
    },
    expect: 'pass',
    value: 0.78,
    tolerance: 1e-2,
    citation: 'own arithmetic, slip joint notes: 600 mm primary at 850 C, 7.8 mm (625)',
  },
  {
    kind: 'pass',
    name: 'two slip joints in one runner add their strokes',
    subject: 'r2',
    spec: {
      'slipJoints.l2': 2,
      'slipJoints.l2.cylinder': 2,
      'slipJoints.l2.stroke': 0.008,
    },
    expect: 'pass',
    value: 0.46714526740130724 / 2,
  },
  {
    kind: 'pass',
    name: 'a header without any slip joint',
    subject: 'r2',
    spec: {
      'slipJoints.l1': undefined,
      'slipJoints.l1.cylinder': undefined,
      'slipJoints.l1.stroke': undefined,
    },
    expect: 'pass',
    message: 'flexes',
  },
  {
    kind: 'validity',
    name: 'a wall hotter than the modulus table',
    subject: 'r1',
    spec: { 'tube.wallTemperature': 1300 },
    expect: 'unknown',
  },
  {
    kind: 'inconsistent',
    name: 'a runner with one node',
    subject: 'r1',
    spec: Object.fromEntries(
      ['n2', 'n3'].flatMap((node) =>
        ['', '.x', '.y', '.z', '.radius'].map((cell) => [`runners.r1.nodes.${node}${cell}`, undefined]),
      ),
    ),
    expect: 'unknown',
    path: 'runners.r1',
  },
]);
