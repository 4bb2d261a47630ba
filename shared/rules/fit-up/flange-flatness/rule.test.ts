import { describe, expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { flatness } from '../../../trade/metrology/plane-fit.ts';
import { verdictWords } from '../../words.ts';
import { flangeFlatness } from './rule.ts';

const subject = 'a1';

ruleTable(flangeFlatness, [
  {
    kind: 'pass',
    name: '0.04 mm over the whole flange passes',
    subject,
    expect: 'pass',
    message: 'face',
    value: 0.04e-3,
    limit: 0.1e-3,
  },
  {
    kind: 'fail',
    name: '0.15 mm over the whole flange fails',
    subject,
    spec: { 'faces.a1.flatness': 0.15e-3 },
    expect: 'fail',
    message: 'face',
  },
  {
    kind: 'boundary',
    name: 'a tenth over the whole flange',
    subject,
    move: 'faces.a1.flatness',
    inside: 0.04e-3,
    outside: 0.2e-3,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 0.1e-3,
    at: 0.1e-3,
  },
  {
    kind: 'boundary',
    name: 'half a tenth at one port',
    subject,
    spec: { 'faces.a1.extent': 'port' },
    move: 'faces.a1.flatness',
    inside: 0.02e-3,
    outside: 0.2e-3,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 0.05e-3,
  },
  {
    kind: 'boundary',
    name: 'half a tenth at the turbine',
    subject,
    spec: { 'faces.a1.extent': 'turbine-flange' },
    move: 'faces.a1.flatness',
    inside: 0.02e-3,
    outside: 0.2e-3,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 0.05e-3,
  },
  {
    kind: 'published',
    name: 'a flange at the rework limit of a car maker fails here',
    subject,
    spec: { 'faces.a1.flatness': 0.2e-3 },
    expect: 'fail',
    value: 0.2e-3,
    limit: 0.1e-3,
    citation: 'service data of a 1998 engine, intake manifold flange: 0.13 mm standard, 0.20 mm limit',
  },
  {
    kind: 'validity',
    name: 'seven points on a face',
    subject,
    spec: { 'faces.a1.points': 7 },
    expect: 'unknown',
    path: 'points on the face',
  },
]);

describe('a reading near the limit', () => {
  it.each([
    [0, false],
    [0.03e-3, true],
  ])('with uncertainty %d m is close: %s', (uncertainty, close) => {
    const spec = { 'faces.a1.flatnessUncertainty': uncertainty, 'faces.a1.flatness': 0.06e-3 };
    const { verdict } = evaluateRow(flangeFlatness, { name: 'guard', subject, spec });
    expect(verdict).toMatchObject({ status: 'pass', close });
  });
});

it('says in micrometres what millimetres round away', () => {
  const spec = { 'faces.a1.extent': 'port', 'faces.a1.flatness': 0.0524e-3 };
  const { verdict } = evaluateRow(flangeFlatness, { name: 'fine', subject, spec });
  if (!verdict) throw new Error('no verdict');
  const words = verdictWords(verdict, flangeFlatness);
  expect(words.label).toBe('FAIL, over by less than 0.01 mm');
  expect(words.message).toBe('52.4 um over 40 points, uncertainty of the reading 8.3 um (95 %).');
});

describe('a face measured point by point', () => {
  it('is judged by the range about its least-squares plane', () => {
    // A square of 100 mm, twisted: opposite corners 0.04 mm up and down, four middles level.
    const high = 0.04e-3;
    const points = [
      [0, 0, high],
      [0.05, 0, 0],
      [0.1, 0, -high],
      [0, 0.05, 0],
      [0.1, 0.05, 0],
      [0, 0.1, -high],
      [0.05, 0.1, 0],
      [0.1, 0.1, high],
    ] as const;
    const found = flatness(points);
    if (!found.known) throw new Error('expected a flatness');
    expect(found.value).toBeCloseTo(2 * high, 12);
    const spec = { 'faces.a1.flatness': found.value };
    expect(evaluateRow(flangeFlatness, { name: 'twist', subject, spec }).verdict).toMatchObject({ status: 'pass' });
    const port = { ...spec, 'faces.a1.extent': 'port' };
    expect(evaluateRow(flangeFlatness, { name: 'twist', subject, spec: port }).verdict).toMatchObject({
      status: 'fail',
    });
  });
});

describe('readings of the gauge', () => {
  /** A flange of 0.5 by 0.08 m with a gauge on a grid: tilted by 1 mm over its length and bowed by `bow` in its middle. */
  function readings(bow: number, count = 5): Record<string, unknown> {
    const entries: Record<string, unknown> = {};
    for (let i = 0; i < count; i++)
      for (let j = 0; j < 2; j++) {
        const [x, y] = [(0.5 * i) / (count - 1), 0.08 * j];
        const height = 0.002 * x + bow * (1 - ((x - 0.25) / 0.25) ** 2);
        const row = { face: 'Head flange', x, y, height };
        entries[`facePoints.g${i}${j}`] = 10 * i + j;
        for (const [key, value] of Object.entries(row)) entries[`facePoints.g${i}${j}.${key}`] = value;
      }
    return { 'faces.a1.name': 'Head flange', 'faces.a1.flatness': undefined, 'faces.a1.points': undefined, ...entries };
  }
  const judged = (spec: Record<string, unknown>) => evaluateRow(flangeFlatness, { name: 'x', subject, spec }).verdict;

  it('are fitted with a plane, whatever the tilt, and take the place of what was typed', () => {
    // A parabola over five rows is as high in the middle as `bow` over its ends; about its own plane the range is the same.
    for (const bow of [0.06e-3, 0.12e-3])
      expect(judged(readings(bow))).toMatchObject({
        status: bow < 0.1e-3 ? 'pass' : 'fail',
        // Square to the tilted plane.
        measured: expect.closeTo(bow * Math.cos(Math.atan(0.002)), 10),
      });
  });

  it('too few of them, or one without a height, are no pass', () => {
    expect(judged(readings(0.01e-3, 3))).toMatchObject({ status: 'unknown', why: { reason: 'outOfValidity' } });
    expect(judged({ ...readings(0.01e-3), 'facePoints.g20.height': undefined })).toMatchObject({
      status: 'unknown',
      why: { reason: 'missing', paths: ['facePoints.g20.height'] },
    });
  });

  it('of another face do not count', () => {
    const typed = { 'faces.a1.flatness': 0.04e-3, 'faces.a1.points': 60 };
    const other = { ...readings(0.3e-3), ...typed, 'faces.a1.name': 'Turbine flange' };
    expect(judged(other)).toMatchObject({ status: 'pass', measured: 0.04e-3 });
  });
});
