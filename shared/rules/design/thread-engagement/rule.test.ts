import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { threadEngagement } from './rule.ts';

const subject = 'studs';

ruleTable(
  threadEngagement,
  [
    { kind: 'pass', name: 'two and a half diameters', subject, expect: 'pass', message: 'needs', limit: 2, value: 2.5 },
    {
      kind: 'fail',
      name: 'one and a half diameters in aluminium',
      subject,
      spec: { 'stud.engagement': 0.012 },
      expect: 'fail',
      message: 'needs',
      value: 1.5,
    },
    {
      kind: 'pass',
      name: 'one and a half diameters in iron',
      subject,
      spec: { 'stud.engagement': 0.012, 'head.metal': 'iron' },
      expect: 'pass',
      limit: 1.25,
      value: 1.5,
    },
    {
      kind: 'boundary',
      name: 'two diameters of M8 in aluminium',
      subject,
      move: 'stud.engagement',
      inside: 0.02,
      outside: 0.01,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 2,
      at: 0.016,
    },
    {
      kind: 'boundary',
      name: 'one and a quarter diameters of M10 in iron',
      subject,
      spec: { 'head.metal': 'iron', 'stud.thread': 'M10' },
      move: 'stud.engagement',
      inside: 0.02,
      outside: 0.01,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 1.25,
      at: 0.0125,
    },
    {
      kind: 'published',
      name: 'the least a maker asks of M8 in aluminium is 16 mm',
      subject,
      spec: { 'stud.engagement': 0.016 },
      expect: 'pass',
      value: 2,
      citation: 'engine maker manual: at least 2 d in aluminium',
    },
  ],
  { without: { validity: 'a length over a table diameter: the form bounds both' } },
);
