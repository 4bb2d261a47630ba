import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { tackCount } from './rule.ts';

const subject = 'j1';
const small = { 'joints.j1.outsideDiameter': 0.02 };

ruleTable(
  tackCount,
  [
    {
      kind: 'pass',
      name: 'six tacks round 44.5 mm pass',
      subject,
      expect: 'pass',
      message: 'needed',
      value: (Math.PI * 0.0445) / 6,
      limit: 0.03,
    },
    {
      kind: 'pass',
      name: 'four tacks round 20 mm pass',
      subject,
      spec: { ...small, 'joints.j1.tacks': 4 },
      expect: 'pass',
    },
    {
      kind: 'fail',
      name: 'four tacks round 44.5 mm fail',
      subject,
      spec: { 'joints.j1.tacks': 4 },
      expect: 'fail',
      message: 'needed',
      value: (Math.PI * 0.0445) / 4,
    },
    {
      kind: 'fail',
      name: 'three tacks round 20 mm fail though they stand near',
      subject,
      spec: { ...small, 'joints.j1.tacks': 3 },
      expect: 'fail',
      limit: (Math.PI * 0.02) / 4,
    },
    {
      kind: 'boundary',
      name: 'six tacks 30 mm apart',
      subject,
      move: 'joints.j1.outsideDiameter',
      inside: 0.05,
      outside: 0.07,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0.03,
      at: 0.18 / Math.PI,
    },
    {
      kind: 'published',
      name: 'eight tacks round 45.2 mm stand 17.75 mm apart',
      subject,
      spec: { 'joints.j1.outsideDiameter': 0.0452, 'joints.j1.tacks': 8 },
      expect: 'pass',
      value: 17.75e-3,
      tolerance: 1e-4,
      citation: 'own, worked example WE-19a: circumference 142 mm, eight tacks',
    },
  ],
  { without: { validity: 'the bounds of the spec fields are the range of the formula' } },
);
