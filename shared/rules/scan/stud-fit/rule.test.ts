import { describe, expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { studFit } from './rule.ts';

const subject = 's1';

/** The eight points on the stud in S1 with other places: radius, turn about the stud and height by number. */
function points(place: (i: number) => { radius?: number; turn?: number; height?: number }): Record<string, number> {
  const out: Record<string, number> = {};
  for (let i = 0; i < 8; i++) {
    const { radius = 0.004, turn = (i * Math.PI) / 4, height = i % 2 === 0 ? 0.012 : 0.03 } = place(i);
    out[`studPoints.s${i + 1}.x`] = radius * Math.cos(turn);
    out[`studPoints.s${i + 1}.y`] = height;
    out[`studPoints.s${i + 1}.z`] = 0.03 + radius * Math.sin(turn);
  }
  return out;
}
const sign = (i: number) => (i % 2 === 0 ? 1 : -1);

ruleTable(
  studFit,
  [
    {
      kind: 'pass',
      name: 'points in turn 0.05 mm outside and inside',
      subject,
      expect: 'pass',
      value: 5e-5,
      limit: 0.2e-3,
      message: 'fit',
      says: '8 points: cylinder 50.0 um RMS, diameter 8.00 mm, leaning 0.0 deg from square to the flange.',
    },
    {
      kind: 'fail',
      name: 'a stud in turn half a millimetre in and out fails',
      subject,
      spec: points((i) => ({ radius: 0.004 + 5e-4 * sign(i) })),
      expect: 'fail',
      message: 'fit',
    },
    {
      kind: 'boundary',
      name: 'all points off the round, in turn',
      subject,
      spec: points(() => ({})),
      move: 'studPoints.s1.x',
      inside: 0.004,
      outside: 0.008,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0.2e-3,
    },
    {
      kind: 'published',
      name: 'eight points in turn 0.1 mm in and out lie 0.1 mm from their cylinder',
      subject,
      spec: points((i) => ({ radius: 0.004 + 1e-4 * sign(i) })),
      expect: 'pass',
      value: 1e-4,
      tolerance: 1e-6,
      citation:
        'own: four points a quarter turn apart on each height hold their circle, so that shifts and tilts of the axis take nothing away, and the mean radius leaves all of it',
    },
    {
      kind: 'validity',
      name: 'six points',
      subject,
      spec: { 'studPoints.s7': undefined, 'studPoints.s8': undefined },
      expect: 'unknown',
      path: 'points on the stud',
    },
    {
      kind: 'validity',
      name: 'one side of a stud only, 150 degrees',
      subject,
      spec: points((i) => ({ turn: (i * Math.PI * 5) / 6 / 7, height: 0.01 + 0.004 * (i % 3) })),
      expect: 'unknown',
      path: 'arc of the stud picked',
    },
    {
      kind: 'inconsistent',
      name: 'points on one line',
      subject,
      spec: points((i) => ({ turn: 0, height: 0.01 + 0.002 * i })),
      expect: 'unknown',
      path: 'cylinder fit',
    },
  ],
  { optional: { '.name': 'a hole without a name is no stud that points could belong to: there is nothing to judge' } },
);

describe('studs', () => {
  it('that nobody picked a point on are no subject', () => {
    expect(evaluateRow(studFit, { name: 'none', subject: 's2', spec: {} }).verdict).toBeUndefined();
  });

  it('all wait for a point of no stated stud', () => {
    const spec = { 'studPoints.s8.stud': undefined };
    expect(evaluateRow(studFit, { name: 'whose', subject, spec }).verdict).toMatchObject({
      why: { reason: 'missing', paths: ['studPoints.s8.stud'] },
    });
  });

  it('lean as they are picked', () => {
    const lean = 0.1;
    const spec = points(() => ({}));
    for (let i = 1; i <= 8; i++)
      spec[`studPoints.s${i}.x`] =
        (spec[`studPoints.s${i}.x`] ?? 0) / Math.cos(lean) + Math.tan(lean) * (spec[`studPoints.s${i}.y`] ?? 0);
    const { verdict } = evaluateRow(studFit, { name: 'lean', subject, spec });
    expect(verdict).toMatchObject({ status: 'pass' });
    expect(verdict && 'data' in verdict ? verdict.data?.lean : Number.NaN).toBeCloseTo(lean, 9);
  });
});
