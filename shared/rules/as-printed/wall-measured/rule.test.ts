import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { wallMeasured } from './rule.ts';

const subject = 'b1';

ruleTable(
  wallMeasured,
  [
    {
      kind: 'pass',
      name: '1.98 mm of 2 mm passes',
      subject,
      expect: 'pass',
      message: 'nominal',
      value: 1.98e-3,
      limit: 1.9e-3,
    },
    {
      kind: 'fail',
      name: '1.7 mm of 2 mm fails',
      subject,
      spec: { 'printedWalls.b1.thinnest': 1.7e-3 },
      expect: 'fail',
      message: 'nominal',
    },
    {
      kind: 'boundary',
      name: 'a tenth below nominal',
      subject,
      move: 'printedWalls.b1.thinnest',
      inside: 1.98e-3,
      outside: 1.7e-3,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 1.9e-3,
      at: 1.9e-3,
      tolerance: 1e-9,
    },
    {
      kind: 'published',
      name: 'a 1.2 mm wall at the typical small-feature tolerance of 0.1 mm',
      subject,
      spec: { 'printedWalls.b1.nominal': 1.2e-3, 'printedWalls.b1.thinnest': 1.15e-3 },
      expect: 'pass',
      value: 1.15e-3,
      limit: 1.1e-3,
      tolerance: 1e-9,
      citation: 'printing bureau feature table: +/- 0.1 mm on small features (excerpt), worked example WE-09b',
    },
  ],
  { without: { validity: 'the bounds of the spec fields lie inside the range of the formula' } },
);
