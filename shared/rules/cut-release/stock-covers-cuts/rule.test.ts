import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { stockCoversCuts } from './rule.ts';

const subject = 'stock';

ruleTable(
  stockCoversCuts,
  [
    {
      kind: 'pass',
      name: 'two quarter bends from three half bends',
      subject,
      expect: 'pass',
      message: 'scarcest',
      limit: 1,
      // With the saw cut two quarters do not come out of one half bend.
      value: 2 / 3,
    },
    {
      kind: 'fail',
      name: 'one half bend is not enough',
      subject,
      spec: { 'stockBends.b1.count': 1 },
      expect: 'fail',
      message: 'scarcest',
      value: 2,
    },
    {
      kind: 'boundary',
      name: 'the shortest tubes of which two are enough',
      subject,
      move: 'cutting.tubeLength',
      inside: 2,
      outside: 0.2,
      expectInside: 'pass',
      expectOutside: 'fail',
      // Two tubes are all there are, a third is one too many: the share jumps from 1 to 1.5.
      limit: 1,
      tolerance: 0.5 + 1e-9,
      at: 0.07 + 0.17 + 0.002,
    },
    {
      kind: 'published',
      name: 'two quarters of R 66.75 and a 2 mm cut do not come out of a half bend',
      subject,
      spec: {
        'stockBends.b1.radius': 0.06675,
        'stockBends.b1.count': 2,
        'cutting.tubeCount': 3,
        'runners.r1.nodes.n2.radius': 0.06675,
        'runners.r2.nodes.n2.radius': 0.06675,
      },
      expect: 'pass',
      value: 1,
      citation: 'own arithmetic, cutting stock notes: 2 mm at R 66.75 takes 1.717 deg',
    },
    {
      kind: 'pass',
      name: 'stock of another radius is not cut',
      subject,
      spec: { 'stockBends.b1.radius': 0.07 },
      expect: 'pass',
      value: 1 / 2,
    },
    {
      kind: 'inconsistent',
      name: 'a straight longer than the stock',
      subject,
      spec: { 'cutting.tubeLength': 0.12 },
      expect: 'unknown',
      path: 'cutting.tubeLength',
    },
    {
      kind: 'inconsistent',
      name: 'a bend beyond the stock bend',
      subject,
      spec: { 'stockBends.b1.angle': 1 },
      expect: 'unknown',
      path: 'stockBends.b1.angle',
    },
  ],
  {
    without: { validity: 'a count of pieces: lengths and angles are bounded by the form' },
    optional: { 'route.made': 'while no route is chosen cutting is not left out' },
  },
);

it('says nothing of a header that is only printed', () => {
  expect(
    evaluateRow(stockCoversCuts, { name: 'printed', subject, spec: { 'route.made': 'printed' } }).verdict,
  ).toBeUndefined();
});
