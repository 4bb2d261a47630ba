import { describe, expect, it } from 'vitest';
import { knownValue } from '../../../tests/reference/nearness.ts';
import { expectRefusal } from '../../../tests/support/validityTable.ts';
import { arcChordError } from './arc-chord-error.ts';
import { algebraicCircle, coveredArc, geometricCircle } from './circle-fit.ts';
import { combinedUncertainty, conformity } from './conformity.ts';
import { cylinderFit } from './cylinder-fit.ts';
import { type DatumFeatures, datumFrame } from './datum-frame.ts';
import { deviationStatistics, percentile } from './deviation-statistics.ts';
import { flatness, planeFit } from './plane-fit.ts';
import { pressureDecayLeak } from './pressure-decay-leak.ts';
import { rigidFit } from './rigid-fit.ts';
import { targetRegistrationError } from './target-registration-error.ts';
import type { Vec } from './vector.ts';

const face: readonly Vec[] = [
  [0, 0, 0],
  [0.4, 0, 0],
  [0.4, 0.1, 0],
  [0, 0.1, 0],
];
const line: readonly Vec[] = Array.from({ length: 9 }, (_, i): Vec => [i, 2 * i, 3 * i]);
const bad: Vec = [0, Number.NaN, 1];

describe('fits say what was expected and what came', () => {
  it('plane and flatness', () => {
    expectRefusal(planeFit(face.slice(0, 2)), 'plane fit: expected at least 3 points, got 2');
    expectRefusal(planeFit([bad, ...face]), 'plane fit: expected finite points, got 0,NaN,1 at 0');
    expectRefusal(planeFit([...face, bad]), 'plane fit: expected finite points, got 0,NaN,1 at 4');
    expectRefusal(planeFit(line), 'plane fit: expected points that span a plane, got points on one line');
    expectRefusal(flatness(face.slice(0, 3)), 'flatness: expected at least 4 points, got 3');
    expect(knownValue(flatness(face))).toBeCloseTo(0, 12);
    expect(planeFit(face.slice(0, 3)).known).toBe(true);
  });

  it('circle', () => {
    for (const circleOf of [algebraicCircle, geometricCircle]) {
      expectRefusal(
        circleOf([
          [0, 0],
          [1, 1],
        ]),
        'circle fit: expected at least 3 points, got 2',
      );
      expectRefusal(
        circleOf([
          [Number.NaN, 0],
          [1, 1],
          [2, 0],
        ]),
        'circle fit: expected finite points, got NaN,0 at 0',
      );
      expectRefusal(
        circleOf([
          [0, 0],
          [1, 1],
          [2, 2],
        ]),
        'circle fit: expected points that fix a circle, got points on one line',
      );
    }
  });

  it('cylinder', () => {
    expectRefusal(cylinderFit(line.slice(0, 6)), 'cylinder fit: expected at least 7 points, got 6');
    expectRefusal(cylinderFit([bad, ...line]), 'cylinder fit: expected finite points, got 0,NaN,1 at 0');
    const patch = Array.from({ length: 25 }, (_, i): Vec => [i % 5, Math.floor(i / 5), 0]);
    const { why } = { why: undefined, ...cylinderFit(patch) };
    expect(JSON.stringify(why)).toMatch(/cylinder fit: expected points that fix a cylinder, got points/);
    expectRefusal(
      cylinderFit(Array.from({ length: 9 }, (): Vec => [1, 1, 1])),
      'cylinder fit: expected points that fix a cylinder, got points no start could fit',
    );
  });

  it('seven points of a cylinder are enough', () => {
    const points = [0, 1, 2, 3, 4, 5, 6].map((i): Vec => [Math.cos(i * 0.9), Math.sin(i * 0.9), i % 3]);
    expect(knownValue(cylinderFit(points)).radius).toBeCloseTo(1, 6);
  });

  it('rigid motion', () => {
    expectRefusal(
      rigidFit(face.slice(0, 2), face.slice(0, 2)),
      'rigid fit: expected two equal lists of at least 3 points, got 2 and 2',
    );
    expectRefusal(
      rigidFit(face, face.slice(1)),
      'rigid fit: expected two equal lists of at least 3 points, got 4 and 3',
    );
    const wrong = [bad, ...face.slice(1)];
    expectRefusal(rigidFit(face, wrong), 'rigid fit: expected finite points, got 0,0,0 and 0,NaN,1 at 0');
    expectRefusal(rigidFit(wrong, face), 'rigid fit: expected finite points, got 0,NaN,1 and 0,0,0 at 0');
    expectRefusal(rigidFit(line, line), 'rigid fit: expected points that fix a rotation, got points on one line');
    expect(knownValue(rigidFit(face.slice(0, 3), face.slice(0, 3))).angle).toBeCloseTo(0, 9);
  });

  it('target registration', () => {
    const target: Vec = [1, 1, 1];
    expectRefusal(
      targetRegistrationError(face.slice(0, 2), target, 1e-4),
      'target registration error: expected at least 3 finite points, got 2',
    );
    expectRefusal(
      targetRegistrationError([bad, ...face], target, 1e-4),
      'target registration error: expected at least 3 finite points, got 5',
    );
    expectRefusal(
      targetRegistrationError(line, target, 1e-4),
      'target registration error: expected points that fix a rotation, got points on one line',
    );
  });

  it('datum frame', () => {
    const good: DatumFeatures = {
      primary: face,
      outward: [0, 0, 1],
      secondary: [
        [0.05, 0.02, 0.01],
        [0.35, 0.02, 0.012],
      ],
      tertiary: [0.05, 0.02, 0.01],
    };
    expectRefusal(
      datumFrame({ ...good, secondary: good.secondary.slice(1) }),
      'datum frame: expected at least 2 finite secondary points, got 1',
    );
    for (const wrong of [{ tertiary: bad }, { outward: bad }, { secondary: [bad, ...good.secondary.slice(1)] }])
      expectRefusal(
        datumFrame({ ...good, ...wrong }),
        'datum frame: expected at least 2 finite secondary points, got 2',
      );
    expectRefusal(
      datumFrame({ ...good, outward: [1, 0, 0] }),
      'datum frame: expected an outward direction off the primary plane, got one in it',
    );
    expectRefusal(
      datumFrame({
        ...good,
        secondary: [
          [0, 0, 0],
          [0, 0, 1],
        ],
      }),
      'datum frame: expected a secondary line across the normal, got one along it or a single place',
    );
    // Looking the other way turns z and y, not x.
    const back = knownValue(datumFrame({ ...good, outward: [0.2, 0.1, -1] }));
    expect(back.z[2]).toBeCloseTo(-1, 12);
    expect(back.x[0]).toBeCloseTo(1, 12);
    expect(back.y[1]).toBeCloseTo(-1, 12);
    // The line runs from its first point to its last.
    const turned = knownValue(datumFrame({ ...good, secondary: [...good.secondary].reverse() }));
    expect(turned.x[0]).toBeCloseTo(-1, 12);
  });
});

describe('statistics', () => {
  it('need two finite values', () => {
    expectRefusal(deviationStatistics([1]), 'deviation statistics: expected at least 2 values, got 1');
    expectRefusal(
      deviationStatistics([Number.NaN, 1, 2]),
      'deviation statistics: expected finite values, got NaN at 0',
    );
    expect(knownValue(deviationStatistics([-1, 3]))).toMatchObject({ count: 2, mean: 1, p50: 1, largest: 3 });
    expect(percentile([], 0.5)).toBeNaN();
    expect(percentile([4], 0.5)).toBe(4);
  });

  it('arc covered', () => {
    expect(coveredArc([])).toBe(0);
    expect(coveredArc([1])).toBeCloseTo(0, 12);
    // Quarter marks at 0, 90 and 180 degrees: half a turn is open.
    expect(coveredArc([Math.PI, 0, Math.PI / 2])).toBeCloseTo(Math.PI, 12);
    // The widest gap lies between two of them, not over the end.
    expect(coveredArc([-3, -2.9, 2.9, 3])).toBeCloseTo(2 * Math.PI - 5.8, 12);
  });
});

describe('readings', () => {
  it('tolerances that are none', () => {
    expectRefusal(
      conformity(1, 0.1, { lower: 2, upper: 1 }),
      'conformity: expected a lower limit below an upper one, or one of them, got 2 and 1',
    );
    expectRefusal(
      conformity(1, 0.1, { lower: 1, upper: 1 }),
      'conformity: expected a lower limit below an upper one, or one of them, got 1 and 1',
    );
    expectRefusal(
      conformity(1, 0.1, {}),
      'conformity: expected a lower limit below an upper one, or one of them, got -Infinity and Infinity',
    );
  });

  it('uncertainties that are none', () => {
    for (const part of [-0.1, Number.NaN, Number.POSITIVE_INFINITY])
      expectRefusal(
        combinedUncertainty([0.3, part]),
        `combined uncertainty: expected finite parts of at least 0, got ${part}`,
      );
    expect(knownValue(combinedUncertainty([0, 0.2]))).toBe(0.2);
  });

  it('pressure that rises', () => {
    expectRefusal(
      pressureDecayLeak({
        volume: 0.0025,
        startPressure: 2e5,
        endPressure: 201e3,
        startTemperature: 300,
        endTemperature: 300,
        duration: 60,
      }),
      'pressure decay: expected an end pressure up to 200000 Pa at the start temperature, got 201000 Pa',
    );
  });

  it('a chord as long as the diameter is the last', () => {
    expect(knownValue(arcChordError.evaluate({ spacing: 0.04, radius: 0.02 }))).toBeCloseTo(0.02, 12);
    expectRefusal(
      arcChordError.evaluate({ spacing: 0.05, radius: 0.02 }),
      'arc-chord-error: expected a spacing up to the diameter 0.04 m, got 0.05 m',
    );
  });

  // Normal error of 0.1 about 1.05: 30.85 % lie below 1, 30.85 % above 1.1 (half a deviation off each limit).
  it('chance outside counts both sides, and limits without uncertainty are sharp', () => {
    const both = knownValue(conformity(1.05, 0.1, { lower: 1, upper: 1.1 }));
    expect(both.outsideShare).toBeCloseTo(2 * 0.308537538725987, 12);
    expect(both.accept[0]).toBeCloseTo(1.165, 12);
    expect(both.verdict).toBe('not proven');
    expect(knownValue(conformity(1.05, 0.1, { lower: 1 })).outsideShare).toBeCloseTo(0.308537538725987, 12);
    for (const [measured, share, verdict] of [
      [0.999, 1, 'does not conform'],
      [1, 0, 'conforms'],
      [1.1, 0, 'conforms'],
      [1.101, 1, 'does not conform'],
    ] as const) {
      const now = knownValue(conformity(measured, 0, { lower: 1, upper: 1.1 }));
      expect([now.outsideShare, now.verdict]).toEqual([share, verdict]);
    }
  });

  // Guard of 0.1 either side of a lower limit of 1: both edges of the undecided band belong to it or to a pass.
  it('a lower limit has a band of its own', () => {
    const at = (measured: number) => knownValue(conformity(measured, 0.1, { lower: 1 }, 1)).verdict;
    expect([0.89, 0.91, 1, 1.09, 1.11].map(at)).toEqual([
      'does not conform',
      'not proven',
      'not proven',
      'not proven',
      'conforms',
    ]);
    const exactly = (measured: number) => knownValue(conformity(measured, 0.25, { lower: 1, upper: 2 }, 1)).verdict;
    expect([0.75, 1.25, 1.75, 2.25].map(exactly)).toEqual(['not proven', 'conforms', 'conforms', 'not proven']);
  });
});
