import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { heatInput } from './rule.ts';

const subject = 'j1';

ruleTable(heatInput, [
  {
    kind: 'pass',
    name: 'a thin tube butt passes',
    subject,
    expect: 'pass',
    message: 'energy',
    value: (0.6 * 10.5 * 55) / 0.0016,
    limit: 0.5e6,
  },
  {
    kind: 'fail',
    name: 'too much current fails',
    subject,
    spec: { 'joints.j1.current': 200 },
    expect: 'fail',
    message: 'energy',
  },
  {
    kind: 'boundary',
    name: 'half a kilojoule a millimetre',
    subject,
    move: 'joints.j1.current',
    inside: 55,
    outside: 200,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 0.5e6,
    at: (0.5e6 * 0.0016) / (0.6 * 10.5),
  },
  {
    kind: 'published',
    name: '10 V, 110 A, 2 in/min: 19.8 kJ/in',
    subject,
    spec: { 'joints.j1.voltage': 10, 'joints.j1.current': 110, 'joints.j1.travelSpeed': (2 * 0.0254) / 60 },
    expect: 'fail',
    value: 19.8e3 / 0.0254,
    tolerance: 1e-6,
    citation: 'public worked line for a TIG root with efficiency, vector WE-14b',
  },
  {
    kind: 'validity',
    name: 'a wall above 3 mm',
    subject,
    spec: { 'joints.j1.wall': 0.0031 },
    expect: 'unknown',
    path: 'wall',
  },
  {
    kind: 'validity',
    name: 'a wall below 1 mm',
    subject,
    spec: { 'joints.j1.wall': 0.0009 },
    expect: 'unknown',
    path: 'wall',
  },
  { kind: 'pass', name: 'a wall of 1 mm is judged', subject, spec: { 'joints.j1.wall': 0.001 }, expect: 'pass' },
  { kind: 'pass', name: 'a wall of 3 mm is still judged', subject, spec: { 'joints.j1.wall': 0.003 }, expect: 'pass' },
]);
