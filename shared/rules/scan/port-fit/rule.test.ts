import { describe, expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { portFit } from './rule.ts';

const subject = 'r1';

/** The six points of port 1 with other places: radius and distance from the face by number. */
function points(place: (i: number) => { radius?: number; off?: number; turn?: number }): Record<string, number> {
  const out: Record<string, number> = {};
  for (let i = 0; i < 6; i++) {
    const { radius = 0.02, off = 0, turn = (i * Math.PI) / 3 } = place(i);
    out[`portPoints.p1${i + 1}.x`] = radius * Math.cos(turn);
    out[`portPoints.p1${i + 1}.y`] = off;
    out[`portPoints.p1${i + 1}.z`] = radius * Math.sin(turn);
  }
  return out;
}
const sign = (i: number) => (i % 2 === 0 ? 1 : -1);
const picked = (where: string) =>
  Object.fromEntries([1, 2, 3, 4, 5, 6].map((i) => [`portPoints.p1${i}.picked`, where]));

ruleTable(portFit, [
  {
    kind: 'pass',
    name: 'points in turn 0.05 mm before and behind the face',
    subject,
    expect: 'pass',
    value: 5e-5,
    limit: 0.2e-3,
    message: 'rim',
    says: '6 points, 6 on the rim: plane 50.0 um RMS, circle 0.0 um RMS, diameter 40.00 mm.',
  },
  {
    kind: 'pass',
    name: 'the same on the face of a port that is not round',
    subject,
    spec: picked('face'),
    expect: 'pass',
    value: 5e-5,
    message: 'face',
    says: '6 points on the face: plane 50.0 um RMS.',
  },
  {
    kind: 'fail',
    name: 'a rim in turn half a millimetre in and out fails',
    subject,
    spec: points((i) => ({ radius: 0.02 + 5e-4 * sign(i) })),
    expect: 'fail',
    message: 'rim',
  },
  {
    kind: 'boundary',
    name: 'one point off the face',
    subject,
    spec: points(() => ({})),
    move: 'portPoints.p11.y',
    inside: 0,
    outside: 0.002,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 0.2e-3,
    // Of a regular six a plane takes up half of one point's offset: RMS = offset sqrt(1/2 / 6).
    at: 0.2e-3 * Math.sqrt(12),
    tolerance: 1e-3,
  },
  {
    kind: 'published',
    name: 'six points in turn 0.1 mm in and out lie 0.1 mm from their circle',
    subject,
    spec: points((i) => ({ radius: 0.02 + 1e-4 * sign(i) })),
    expect: 'pass',
    value: 1e-4,
    tolerance: 1e-9,
    citation:
      'own: a change of radius of period three is square to the three freedoms of a circle (periods nought and one), so all of it is left',
  },
  {
    kind: 'validity',
    name: 'three points',
    subject,
    spec: { 'portPoints.p14': undefined, 'portPoints.p15': undefined, 'portPoints.p16': undefined },
    expect: 'unknown',
    path: 'points on the port',
  },
  {
    kind: 'validity',
    name: 'four points on the rim',
    subject,
    spec: { 'portPoints.p11.picked': 'face', 'portPoints.p12.picked': 'face' },
    expect: 'unknown',
    path: 'points on the rim',
  },
  {
    kind: 'validity',
    name: 'a rim picked over 150 degrees only',
    subject,
    spec: points((i) => ({ turn: (i * Math.PI) / 6 })),
    expect: 'unknown',
    path: 'arc of the rim picked',
  },
  {
    kind: 'inconsistent',
    name: 'points on one line',
    subject,
    spec: points((i) => ({ turn: 0, radius: 0.01 * i })),
    expect: 'unknown',
    path: 'on one line',
  },
]);

describe('ports', () => {
  it('without a picked point are unknown, not passed over', () => {
    const spec = Object.fromEntries([1, 2, 3, 4, 5, 6].map((i) => [`portPoints.p1${i}.cylinder`, 2]));
    expect(evaluateRow(portFit, { name: 'none', subject, spec }).verdict).toMatchObject({
      status: 'unknown',
      why: { reason: 'outOfValidity', value: 0 },
    });
  });

  it('all wait for a point of no stated cylinder', () => {
    const spec = { 'portPoints.p25.cylinder': undefined };
    expect(evaluateRow(portFit, { name: 'whose', subject, spec }).verdict).toMatchObject({
      why: { reason: 'missing', paths: ['portPoints.p25.cylinder'] },
    });
  });

  it('do not mind a bad point of another', () => {
    const spec = { 'portPoints.p25.y': 0.5 };
    expect(evaluateRow(portFit, { name: 'other', subject, spec }).verdict?.status).toBe('pass');
    expect(evaluateRow(portFit, { name: 'own', subject: 'r2', spec }).verdict?.status).toBe('fail');
  });
});
