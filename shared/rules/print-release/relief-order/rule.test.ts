import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { reliefOrder } from './rule.ts';

const subject = 'build';
const ordered = ['on-the-plate', 'after-cutting'] as const;

ruleTable(
  reliefOrder,
  [
    {
      kind: 'pass',
      name: 'relieved on the plate passes',
      subject,
      expect: 'pass',
      value: 1,
      message: 'bridge',
      says: 'Unrelieved, a bridge 75.00 mm long rose 1.28 mm when it was cut.',
    },
    {
      kind: 'fail',
      name: 'relieved after cutting fails',
      subject,
      spec: { 'printer.relief': 'after-cutting' },
      expect: 'fail',
    },
    { kind: 'fail', name: 'not relieved at all fails', subject, spec: { 'printer.relief': 'none' }, expect: 'fail' },
    {
      kind: 'boundary',
      name: 'from on the plate to after cutting',
      subject,
      move: 'printer.relief',
      as: (x) => ordered[Math.round(x)] ?? 'none',
      inside: 0,
      outside: 1,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 1,
      // The list has nothing between 1 and 0.
      tolerance: 1,
    },
    {
      kind: 'published',
      name: 'the order the standard gives',
      subject,
      spec: { 'printer.relief': 'on-the-plate' },
      expect: 'pass',
      value: 1,
      citation: 'ASTM F3301, introduction: heat treated on the plate to avoid distortion on separation (excerpt)',
    },
  ],
  {
    without: { validity: 'any order of the list can be judged' },
    optional: {
      'route.made': 'while no route is chosen printing is not left out',
      '.use': 'what is not said to be bought is printed',
    },
  },
);

it.each([
  ['bought pieces', { 'pieces.q1.use': 'bought' }],
  ['a header that is only fabricated', { 'route.made': 'fabricated' }],
])('has nothing to judge for %s', (_, spec) => {
  expect(evaluateRow(reliefOrder, { name: 'x', subject, spec }).verdict).toBeUndefined();
});
