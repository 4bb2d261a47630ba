import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { machiningStock } from './rule.ts';

const subject = 'v1';

ruleTable(
  machiningStock,
  [
    {
      kind: 'pass',
      name: '1.5 mm on a long flange passes',
      subject,
      expect: 'pass',
      value: 1.5e-3,
      message: 'band',
      says: 'This sort of face takes 1.00 mm to 2.00 mm; 1.50 mm is usual.',
    },
    {
      kind: 'fail',
      name: '0.4 mm on a long flange fails',
      subject,
      spec: { 'machinedFaces.v1.stock': 0.4e-3 },
      expect: 'fail',
    },
    {
      kind: 'fail',
      name: '0.9 mm on a hole fails',
      subject,
      spec: { 'machinedFaces.v1.kind': 'hole', 'machinedFaces.v1.stock': 0.9e-3 },
      expect: 'fail',
    },
    {
      kind: 'fail',
      name: '2.5 mm on a face that was supported fails',
      subject,
      spec: { 'machinedFaces.v1.kind': 'supported-face', 'machinedFaces.v1.stock': 2.5e-3 },
      expect: 'fail',
      limit: 2e-3,
    },
    {
      kind: 'boundary',
      name: 'the least on a long flange',
      subject,
      move: 'machinedFaces.v1.stock',
      inside: 1.5e-3,
      outside: 0.5e-3,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 1e-3,
      at: 1e-3,
    },
    {
      kind: 'published',
      name: '0.3 mm on a sealing face is the least a trade page names',
      subject,
      spec: { 'machinedFaces.v1.kind': 'sealing-face', 'machinedFaces.v1.stock': 0.3e-3 },
      expect: 'pass',
      value: 0.3e-3,
      limit: 0.3e-3,
      close: true,
      citation: 'trade page on post-processing of printed metal: 0.3 to 1.0 mm on sealing faces (excerpt)',
    },
  ],
  {
    without: { validity: 'any stock the field takes can be judged' },
    optional: { 'route.made': 'while no route is chosen printing is not left out' },
  },
);

it('has nothing to judge while the header is only fabricated', () => {
  const { verdict } = evaluateRow(machiningStock, { name: 'x', subject, spec: { 'route.made': 'fabricated' } });
  expect(verdict).toBeUndefined();
});

it('says where a limit comes from that is not the sealing face’s', () => {
  const judged = (kind: string, stock: number) =>
    evaluateRow(machiningStock, {
      name: 'x',
      subject,
      spec: { 'machinedFaces.v1.kind': kind, 'machinedFaces.v1.stock': stock },
    }).verdict;
  expect(judged('long-flange', 1.5e-3)).toMatchObject({
    limitNote: 'common practice, no source: header flange from 150 mm, because of bow',
  });
  expect(judged('sealing-face', 0.8e-3)).not.toHaveProperty('limitNote');
});
