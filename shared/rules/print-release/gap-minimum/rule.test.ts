import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { gapMinimum } from './rule.ts';

const subject = 'q1';

ruleTable(
  gapMinimum,
  [
    {
      kind: 'pass',
      name: 'a gap of 3 mm passes',
      subject,
      measured: {},
      expect: 'pass',
      value: 0.003,
      limit: 0.0005,
      message: 'fused',
      says: 'Below 0.20 mm it fuses for certain. Gaps were looked for up to 5.00 mm.',
    },
    {
      kind: 'pass',
      name: 'no gap up to the limit of the search passes',
      subject,
      measured: { gap: 0.005, at: null, to: null },
      expect: 'pass',
      value: 0.005,
    },
    { kind: 'fail', name: 'a gap of 0.3 mm fails', subject, measured: { gap: 0.0003 }, expect: 'fail' },
    {
      kind: 'boundary',
      name: 'half a millimetre',
      subject,
      measured: {},
      move: 'measured.gap',
      inside: 0.001,
      outside: 0.0001,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0.0005,
      at: 0.0005,
    },
    {
      kind: 'published',
      name: 'a printed slip joint with 0.35 mm on the diameter has 0.175 mm on each side',
      subject,
      measured: { gap: 0.00035 / 2 },
      expect: 'fail',
      value: 0.000175,
      citation: 'bureau table: 0.2 mm for connections, 0.5 mm for what must move (excerpt of a flattened table)',
    },
    {
      kind: 'inconsistent',
      name: 'an open mesh has no gaps to measure',
      subject,
      measured: { openEdges: 2 },
      expect: 'unknown',
      path: 'pieces.q1.mesh',
    },
    { kind: 'pending', name: 'not measured yet', subject, expect: 'unknown' },
  ],
  {
    without: { validity: 'any gap of a closed mesh can be judged' },
    optional: {
      'route.made': 'while no route is chosen printing is not left out',
      '.use': 'what is not said to be bought is printed',
    },
  },
);

it.each([
  [0.00056, false],
  [0.00054, true],
])('a gap of %d m is close: %s', (gap, close) => {
  expect(evaluateRow(gapMinimum, { name: 'x', subject, measured: { gap } }).verdict).toMatchObject({ close });
});

it('points at both sides of the gap', () => {
  const { verdict } = evaluateRow(gapMinimum, { name: 'x', subject, measured: {} });
  expect(verdict).toMatchObject({ witness: { at: [0.02, 0.1, 0], to: [0.02, 0.103, 0] } });
  const half = { gap: 0.003, at: [0, 0, 0], to: null };
  expect(evaluateRow(gapMinimum, { name: 'x', subject, measured: half }).verdict).not.toHaveProperty('at');
  expect(evaluateRow(gapMinimum, { name: 'x', subject, measured: half }).verdict).not.toHaveProperty('witness');
  const none = { gap: 0.005, at: null, to: null };
  expect(evaluateRow(gapMinimum, { name: 'x', subject, measured: none }).verdict).not.toHaveProperty('witness');
});
