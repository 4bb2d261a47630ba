import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { hotClearance } from './rule.ts';

const subject = 'h1';
const ofClass = (heatClass: string) => ({ 'components.c1.heatClass': heatClass });

ruleTable(
  hotClearance,
  [
    {
      kind: 'pass',
      name: '100 mm hot to structure passes',
      subject,
      expect: 'pass',
      message: 'made',
      value: 0.1 - 0.004 - 1.65 * 0.001,
      limit: 0.0254,
    },
    {
      kind: 'fail',
      name: '100 mm hot to a painted panel fails',
      subject,
      spec: ofClass('painted-panel'),
      expect: 'fail',
      message: 'made',
      limit: 0.1,
    },
    {
      kind: 'boundary',
      name: 'the clearance of structure above rock and guard band',
      subject,
      move: 'hotClearances.h1.gap',
      inside: 0.1,
      outside: 0,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0.0254,
      at: 0.0254 + 0.004 + 1.65 * 0.001,
    },
    {
      kind: 'published',
      name: 'a hose asks for 3 in',
      subject,
      spec: { ...ofClass('hose'), 'engine.rock': 0, 'hotClearances.h1.uncertainty': 0 },
      expect: 'pass',
      value: 0.1,
      limit: 0.0762,
      citation: 'truck body-builder manual 2010, table 9-1: 3 in unshielded',
    },
    {
      kind: 'inconsistent',
      name: 'a component that is not there',
      subject,
      spec: { 'hotClearances.h1.component': 'Hood' },
      expect: 'unknown',
      path: 'hotClearances.h1.component',
    },
  ],
  { without: { validity: 'differences of gaps hold for any gap the fields allow' } },
);
