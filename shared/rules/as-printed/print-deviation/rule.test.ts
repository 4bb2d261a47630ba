import { describe, expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { deviationSummary } from '../../../trade/print/deviation-summary.ts';
import { printDeviation } from './rule.ts';

const subject = 'q1';

/** The scan of the piece named in place of its report. */
const scanned = {
  'printedPieces.q1.piece': 'Runner 1',
  'printedPieces.q1.scan': 'b'.repeat(64),
  'printedPieces.q1.scanUnit': 'mm',
  'printedPieces.q1.size95': undefined,
  'printedPieces.q1.scanPoints': undefined,
};

ruleTable(printDeviation, [
  {
    kind: 'pass',
    name: '0.2 mm on 180 mm passes',
    subject,
    expect: 'pass',
    message: 'datum',
    value: 0.2e-3,
    limit: 0.36e-3,
    tolerance: 1e-9,
  },
  {
    kind: 'pass',
    name: 'a best fit is judged alike and said',
    subject,
    spec: { 'printedPieces.q1.alignment': 'best-fit' },
    expect: 'pass',
    message: 'fitted',
  },
  {
    kind: 'fail',
    name: 'half a millimetre on 180 mm fails',
    subject,
    spec: { 'printedPieces.q1.size95': 0.5e-3 },
    expect: 'fail',
    message: 'datum',
  },
  {
    kind: 'boundary',
    name: '0.2 % of 180 mm',
    subject,
    move: 'printedPieces.q1.size95',
    inside: 0.2e-3,
    outside: 0.5e-3,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 0.36e-3,
    at: 0.36e-3,
    tolerance: 1e-9,
  },
  {
    kind: 'boundary',
    name: 'a short piece has a tenth',
    subject,
    spec: { 'printedPieces.q1.longest': 0.05 },
    move: 'printedPieces.q1.size95',
    inside: 0.05e-3,
    outside: 0.5e-3,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 0.1e-3,
  },
  {
    kind: 'published',
    name: 'the published deviations of 40 um pass on a short piece',
    subject,
    spec: { 'printedPieces.q1.longest': 0.05, 'printedPieces.q1.size95': 40e-6 },
    expect: 'pass',
    value: 40e-6,
    limit: 0.1e-3,
    citation: 'Appl. Sci. 2025, 15(17), 9756: deviations of -40 to +34 um after scaling (excerpt)',
  },
  {
    kind: 'validity',
    name: 'a handful of points',
    subject,
    spec: { 'printedPieces.q1.scanPoints': 199 },
    expect: 'unknown',
    path: 'points of the piece scan',
  },
  {
    kind: 'pending',
    name: 'a scan that is being compared',
    subject,
    spec: scanned,
    expect: 'unknown',
  },
  {
    kind: 'pass',
    name: 'a scan that was compared passes without a typed report',
    subject,
    spec: scanned,
    measured: { size95: 0.21e-3 },
    expect: 'pass',
    value: 0.21e-3,
    limit: 0.36e-3,
    tolerance: 1e-9,
    says: 'Allowed 0.36 mm on 180.00 mm; 52000 points where they lie: mean 12.0 um, one sigma 90.0 um, largest 0.60 mm.',
  },
  {
    kind: 'fail',
    name: 'a scan that was compared fails, and says what the best fit took away',
    subject,
    spec: { ...scanned, 'printedPieces.q1.alignment': 'best-fit' },
    measured: { size95: 0.5e-3 },
    expect: 'fail',
    says: 'Allowed 0.36 mm on 180.00 mm; 52000 points after a best fit (4.00 mm before it): mean 12.0 um, one sigma 90.0 um, largest 0.60 mm.',
  },
  {
    kind: 'validity',
    name: 'a scan of a handful of points',
    subject,
    spec: scanned,
    measured: { compared: 199 },
    expect: 'unknown',
    path: 'points of the piece scan',
  },
  {
    kind: 'inconsistent',
    name: 'a piece that there is not',
    subject,
    spec: { ...scanned, 'printedPieces.q1.piece': 'Runner 9' },
    measured: {},
    expect: 'unknown',
    path: 'Runner 9',
  },
]);

describe('a scan that is named', () => {
  it('needs its piece and its unit: the typed report does not stand in for it', () => {
    for (const path of ['printedPieces.q1.piece', 'printedPieces.q1.scanUnit']) {
      const spec = {
        ...scanned,
        'printedPieces.q1.size95': 1e-4,
        'printedPieces.q1.scanPoints': 4000,
        [path]: undefined,
      };
      expect(evaluateRow(printDeviation, { name: path, subject, spec, measured: {} }).verdict).toMatchObject({
        status: 'unknown',
        why: { reason: 'missing', paths: [path] },
      });
    }
  });

  it('points at the worst place', () => {
    const row = { name: 'worst', subject, spec: scanned, measured: { size95: 1e-3, at: [0.01, 0.02, 0.03] } };
    expect(evaluateRow(printDeviation, row).verdict).toMatchObject({
      status: 'fail',
      witness: { at: [0.01, 0.02, 0.03] },
    });
  });
});

describe('the statistics of a scan', () => {
  it('are those of the deviation summary: its 95 % point of the sizes is what is typed', () => {
    // 1001 deviations evenly from -0.4 to +0.4 mm: 95 % of the sizes lie below 0.38 mm, the mean hides all of it.
    const found = deviationSummary(Array.from({ length: 1001 }, (_, i) => (i - 500) * 0.8e-6));
    if (!found.known) throw new Error('expected a summary');
    expect(found.value.mean).toBeCloseTo(0, 12);
    expect(found.value.size95).toBeCloseTo(0.38e-3, 6);
    const spec = { 'printedPieces.q1.size95': found.value.size95 };
    expect(evaluateRow(printDeviation, { name: 'even', subject, spec }).verdict?.status).toBe('fail');
  });
});
