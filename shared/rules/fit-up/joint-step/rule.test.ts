import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { jointStep } from './rule.ts';

const subject = 'j1';

ruleTable(
  jointStep,
  [
    {
      kind: 'pass',
      name: '0.15 mm on a 2 mm wall passes',
      subject,
      expect: 'pass',
      message: 'own',
      value: 0.15e-3,
      limit: 1e-3,
    },
    {
      kind: 'fail',
      name: '1.2 mm on a 2 mm wall fails',
      subject,
      spec: { 'joints.j1.step': 1.2e-3 },
      expect: 'fail',
      message: 'own',
    },
    {
      kind: 'boundary',
      name: 'the gas path cautions above 0.3 mm',
      subject,
      move: 'joints.j1.step',
      inside: 0.1e-3,
      outside: 0.5e-3,
      expectInside: 'pass',
      expectOutside: 'caution',
      limit: 0.3e-3,
      at: 0.3e-3,
    },
    {
      kind: 'boundary',
      name: 'a thin wall cautions above a fifth of it',
      subject,
      spec: { 'joints.j1.wall': 1.2e-3 },
      move: 'joints.j1.step',
      inside: 0.1e-3,
      outside: 0.5e-3,
      expectInside: 'pass',
      expectOutside: 'caution',
      limit: 0.24e-3,
    },
    {
      kind: 'boundary',
      name: 'level B ends at half the wall',
      subject,
      move: 'joints.j1.step',
      inside: 0.5e-3,
      outside: 1.5e-3,
      expectInside: 'caution',
      expectOutside: 'fail',
      limit: 1e-3,
      at: 1e-3,
    },
    {
      kind: 'published',
      name: 'level B of a 4 mm wall allows 2 mm round a tube',
      subject,
      spec: { 'joints.j1.wall': 4e-3, 'joints.j1.step': 2.001e-3 },
      expect: 'fail',
      value: 2.001e-3,
      limit: 2e-3,
      citation: 'ISO 5817 imperfection 507 (from memory), worked example WE-17b: 2.0 mm at 4 mm wall',
    },
  ],
  { without: { validity: 'the bounds of the wall lie inside the range of both limits' } },
);
