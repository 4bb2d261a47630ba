import { describe, expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { scanRegistration } from './rule.ts';

const subject = 'scan';
const corners = [
  [0.3, 0.3],
  [-0.3, 0.3],
  [-0.3, -0.3],
  [0.3, -0.3],
] as const;

/** The square of the base spec with other places on the car. */
function placed(car: (x: number, z: number, i: number) => readonly [number, number, number]): Record<string, number> {
  const out: Record<string, number> = {};
  for (const [i, [x, z]] of corners.entries())
    for (const [k, value] of car(x, z, i).entries()) out[`datums.d${i + 1}.car${'XYZ'[k]}`] = value;
  return out;
}
const twisted = (by: number) => placed((x, z, i) => [x, i % 2 === 0 ? by : -by, z]);

ruleTable(scanRegistration, [
  {
    kind: 'pass',
    name: 'a twist of 0.1 mm is left at every point',
    subject,
    expect: 'pass',
    value: 1e-4,
    tolerance: 1e-6,
    limit: 0.5e-3,
    message: 'fit',
    says: '4 points; worst Target 1 with 0.10 mm; the fit moves a scan by 0.00 mm; a free scale would be 1.000.',
  },
  { kind: 'fail', name: 'a twist of 0.8 mm fails', subject, spec: twisted(0.8e-3), expect: 'fail', message: 'fit' },
  {
    kind: 'boundary',
    name: 'one target off: a quarter of it is left at all four',
    subject,
    move: 'datums.d1.carY',
    inside: 0,
    outside: 0.0025,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 0.5e-3,
    // (y1 + 3 x 0.1 mm) / 4 = 0.5 mm, to first order in the tilt.
    at: 1.7e-3,
    tolerance: 1e-4,
  },
  {
    kind: 'published',
    name: 'a scan 0.1 % too small is off by a thousandth of the distance from the middle',
    subject,
    spec: placed((x, z) => [1.001 * x, 0, 1.001 * z]),
    expect: 'pass',
    value: 0.001 * Math.hypot(0.3, 0.3),
    tolerance: 1e-9,
    citation:
      'Umeyama, IEEE PAMI 13 (1991) 376, closed form: without scale the residual is |c - 1| times the centred point (from memory)',
  },
  {
    kind: 'validity',
    name: 'three points',
    subject,
    spec: { 'datums.d4': undefined },
    expect: 'unknown',
    path: 'datum points',
  },
  {
    kind: 'inconsistent',
    name: 'points on one line',
    subject,
    spec: Object.fromEntries(
      corners.flatMap((_, i) => [
        [`datums.d${i + 1}.scanZ`, 0],
        [`datums.d${i + 1}.carZ`, 0],
      ]),
    ),
    expect: 'unknown',
    path: 'on one line',
  },
  {
    kind: 'pass',
    name: 'a scan that lies 20 mm off and is placed by its datums',
    subject,
    spec: {
      ...placed((x, z, i) => [x + 0.02, i % 2 === 0 ? 1e-4 : -1e-4, z]),
      'components.c1.placed': 'by-datums',
    },
    expect: 'pass',
    message: 'fit',
  },
  {
    kind: 'inconsistent',
    name: 'a scan that fits well but lies 20 mm off',
    subject,
    spec: placed((x, z, i) => [x + 0.02, i % 2 === 0 ? 1e-4 : -1e-4, z]),
    expect: 'unknown',
    path: 'the fit moves it by 20.00 mm',
  },
]);

describe('a bad scan', () => {
  it('that lies off as well is told to be bad first', () => {
    const spec = placed((x, z, i) => [x + 0.02, i % 2 === 0 ? 8e-4 : -8e-4, z]);
    expect(evaluateRow(scanRegistration, { name: 'both', subject, spec }).verdict).toMatchObject({ status: 'fail' });
  });

  it('without a datum point is unknown, not passed over', () => {
    const spec = Object.fromEntries([1, 2, 3, 4].map((i) => [`datums.d${i}`, undefined]));
    expect(evaluateRow(scanRegistration, { name: 'none', subject, spec }).verdict).toMatchObject({
      status: 'unknown',
      why: { reason: 'outOfValidity', value: 0 },
    });
  });

  it('in inches shows in the scale', () => {
    const spec = placed(
      (x, z) => [25.4 * x, 0, 25.4 * z].map((v) => Math.max(-5, Math.min(5, v))) as [number, number, number],
    );
    const { verdict } = evaluateRow(scanRegistration, { name: 'inches', subject, spec });
    expect(verdict).toMatchObject({ status: 'fail' });
    expect(verdict && 'data' in verdict && Number(verdict.data?.scale)).toBeCloseTo(5 / 0.3, 6);
  });

  it('points at its worst target', () => {
    const spec = { 'datums.d3.carY': 0.004 };
    expect(evaluateRow(scanRegistration, { name: 'worst', subject, spec }).verdict).toMatchObject({
      status: 'fail',
      witness: { at: [-0.3, 0.004, -0.3] },
    });
  });
});
