import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { copeValid } from './rule.ts';

const subject = 'p1';
/** Round the branch, with 5 mm of paper beyond each end. */
const along = Math.PI * 0.0445 + 0.01;

ruleTable(
  copeValid,
  [
    {
      kind: 'pass',
      name: 'a branch on the axis',
      subject,
      expect: 'pass',
      limit: 0.297,
      message: 'sheet',
      value: along,
    },
    {
      kind: 'fail',
      name: 'a branch past the side of the main tube',
      subject,
      spec: { 'copes.p1.offset': 0.02 },
      expect: 'fail',
      message: 'meets',
      value: 0.02 + 0.02225,
      limit: 0.03,
    },
    {
      kind: 'fail',
      name: 'the same to the other side',
      subject,
      spec: { 'copes.p1.offset': -0.02 },
      expect: 'fail',
      message: 'meets',
      value: 0.02 + 0.02225,
    },
    {
      kind: 'fail',
      name: 'a sheet shorter than the tube is round',
      subject,
      spec: { 'cutting.sheetLength': 0.12, 'cutting.sheetWidth': 0.12 },
      expect: 'fail',
      message: 'sheet',
      value: along,
      limit: 0.12,
    },
    {
      kind: 'boundary',
      name: 'the sheet is just as long as the template',
      subject,
      spec: { 'cutting.sheetWidth': 0.14 },
      move: 'cutting.sheetLength',
      inside: 0.16,
      outside: 0.141,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: along,
      at: along,
    },
    {
      kind: 'published',
      name: 'at 45 deg on R 30 a branch of 44.5 x 1.6 is 42.9 mm high, with margins',
      subject,
      spec: {
        'copes.p1.angle': Math.PI / 4,
        'tube.wall': 0.0016,
        'cutting.sheetLength': 1,
        'cutting.sheetWidth': 0.1,
      },
      expect: 'pass',
      message: 'across',
      // Highest at 180 deg, 64.676 mm; lowest where inner wall governs, 21.776 mm.
      value: 0.0529,
      tolerance: 1e-4,
      citation: 'own derivation verified by rays, cope notes: 64.676 mm at 180 deg, 21.776 mm at 0 deg',
    },
    {
      kind: 'validity',
      name: 'a wall that fills the tube',
      subject,
      spec: { 'tube.wall': 0.008, 'tube.outsideDiameter': 0.012 },
      expect: 'unknown',
      path: 'innerRadius',
    },
  ],
  {
    optional: { 'route.made': 'while no route is chosen cutting is not left out' },
  },
);

it('says nothing of a header that is only printed', () => {
  expect(
    evaluateRow(copeValid, { name: 'printed', subject, spec: { 'route.made': 'printed' } }).verdict,
  ).toBeUndefined();
});
