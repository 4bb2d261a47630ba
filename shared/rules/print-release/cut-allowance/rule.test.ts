import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { cutAllowance } from './rule.ts';

const subject = 'q1';

ruleTable(
  cutAllowance,
  [
    {
      kind: 'pass',
      name: '6 mm under a wire cut passes',
      subject,
      expect: 'pass',
      value: 6e-3,
      limit: 3e-3,
      message: 'loss',
      says: 'The cut itself takes 1.31 mm: width, wander and dressing.',
    },
    {
      kind: 'fail',
      name: '2 mm under a wire cut fails',
      subject,
      spec: { 'pieces.q1.lift': 2e-3 },
      expect: 'fail',
    },
    {
      kind: 'fail',
      name: '4 mm is not enough for a saw',
      subject,
      spec: { 'pieces.q1.lift': 4e-3, 'printer.separation': 'band-saw' },
      expect: 'fail',
      limit: 4.5e-3,
      says: 'The cut itself takes 3.30 mm: width, wander and dressing.',
    },
    {
      kind: 'boundary',
      name: 'three millimetres for a wire',
      subject,
      move: 'pieces.q1.lift',
      inside: 6e-3,
      outside: 1e-3,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 3e-3,
      at: 3e-3,
    },
    {
      kind: 'published',
      name: 'a saw within the usual allowance of 4 to 5 mm',
      subject,
      spec: { 'pieces.q1.lift': 5e-3, 'printer.separation': 'band-saw' },
      expect: 'pass',
      value: 5e-3,
      limit: 4.5e-3,
      citation: 'common practice, no source: band saw 4 to 5 mm',
    },
  ],
  {
    without: { validity: 'any height the field takes can be judged' },
    optional: {
      'route.made': 'while no route is chosen printing is not left out',
      '.use': 'what is not said to be bought is printed',
    },
  },
);

it.each([
  ['bought', { 'pieces.q1.use': 'bought' }],
  ['on a header that is only fabricated', { 'route.made': 'fabricated' }],
])('does not judge a piece that is %s', (_, spec) => {
  expect(evaluateRow(cutAllowance, { name: 'x', subject, spec }).verdict).toBeUndefined();
});
