import { describe, expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { hoodClearance } from './rule.ts';

const subject = 'r1~c1';
const hood = { 'components.c1.sits': 'closes-over', 'components.c1.name': 'Hood' };

ruleTable(
  hoodClearance,
  [
    {
      kind: 'pass',
      name: 'far below the hood passes',
      subject,
      spec: hood,
      measured: { gap: 0.2 },
      expect: 'pass',
      limit: 0.02,
    },
    {
      kind: 'fail',
      name: 'a centimetre below the hood fails',
      subject,
      spec: hood,
      measured: { gap: 0.01 },
      expect: 'fail',
      message: 'made',
    },
    { kind: 'pending', name: 'pending until it is measured', subject, spec: hood, expect: 'unknown' },
    {
      kind: 'boundary',
      name: 'twenty millimetres less rock and guard band',
      subject,
      spec: { ...hood, 'engine.rock': 0.004, 'bay.scanUncertainty': 0.001 },
      measured: {},
      move: 'measured.gap',
      inside: 0.2,
      outside: 0.001,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0.02,
      at: 0.02 + 0.004 + 1.65 * 0.001,
      tolerance: 1e-3,
    },
    {
      kind: 'published',
      name: 'a piece with 30 mm to the hood of an engine that rocks by 5 mm',
      subject: 'q1~c1',
      spec: { ...hood, 'engine.rock': 0.005, 'bay.scanUncertainty': 0 },
      measured: { gap: 0.03 },
      expect: 'pass',
      value: 0.025,
      citation: 'common practice, no source: 20 mm under a shut hood',
    },
  ],
  {
    without: { validity: 'any gap can be judged' },
    optional: {
      'route.made': 'while no route is chosen printing is not left out',
      '.sits': 'what is not said to close over does not',
      '.use': 'only what is said to be bought stays when nothing is printed',
    },
  },
);

describe('what closes over', () => {
  it('is judged, what is fixed is not', () => {
    const spec = { 'components.c1.sits': 'fixed' };
    expect(evaluateRow(hoodClearance, { name: 'x', subject, spec, measured: {} }).verdict).toBeUndefined();
    const unsaid = { 'components.c1.sits': undefined };
    expect(evaluateRow(hoodClearance, { name: 'x', subject, spec: unsaid, measured: {} }).verdict).toBeUndefined();
  });

  it('is judged against runners and pieces alike', () => {
    const jobs = [subject, 'q1~c1'].map(
      (one) => evaluateRow(hoodClearance, { name: 'x', subject: one, spec: hood, measured: {} }).verdict?.subject.kind,
    );
    expect(jobs).toEqual(['runner-component', 'piece-component']);
  });
});
