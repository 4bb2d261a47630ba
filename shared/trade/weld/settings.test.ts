import { describe, expect, it } from 'vitest';
import { knownValue } from '../../../tests/reference/nearness.ts';
import { expectRefusal, validityTable } from '../../../tests/support/validityTable.ts';
import { currentWindow, startSettingsAt, tungstenFor } from './current-window.ts';
import { fillerChoice } from './filler-choice.ts';
import { pulsePower } from './pulse-power.ts';
import { purgeTime } from './purge-time.ts';
import { rootGapLimit } from './root-gap-limit.ts';
import { shrinkageHigh } from './shrinkage-high.ts';
import { tackCount } from './tack-count.ts';

// Thumb rule 39.4 A for each mm of wall (1 A a thousandth of an inch); start at 0.65 to 0.80 of it.
it('current for a wall of 2 mm', () => {
  const { low, high, top } = knownValue(currentWindow(2e-3));
  expect(top).toBeCloseTo(78.74, 2);
  expect(low).toBeCloseTo(51.18, 2);
  expect(high).toBeCloseTo(62.99, 2);
});

validityTable({
  name: 'start-settings',
  call: ({ wall }) => startSettingsAt(wall),
  good: { wall: 2e-3 },
  rows: { wall: ['length', 0.51e-3, 3.18e-3] },
});
validityTable({
  name: 'tungsten',
  call: ({ current }) => tungstenFor(current),
  good: { current: 50 },
  rows: { current: ['current', 5, 180] },
});

describe('rows of the charts', () => {
  it('a wall on a shared edge takes the thinner row', () => {
    const least = (wall: number) => knownValue(startSettingsAt(wall)).wall[0];
    expect([0.51e-3, 1.02e-3, 1.03e-3, 3.18e-3].map(least)).toEqual([0.51e-3, 0.51e-3, 1.02e-3, 2.36e-3]);
  });

  it('the thinnest tungsten that carries the current', () => {
    expect([5, 60, 61, 100, 101, 180].map((current) => knownValue(tungstenFor(current)) * 1e3)).toEqual([
      1, 1, 1.6, 1.6, 2.4, 2.4,
    ]);
  });

  it('a pair of metals the table does not hold', () => {
    const got = fillerChoice('310', '409');
    expectRefusal(got, 'filler: expected a pair of the table, got 310 with 409: ask a welding engineer');
  });
});

describe('pulses', () => {
  it('background above peak is refused; equal is a steady arc, of which mean times mean misses nothing', () => {
    const steady = { peak: 80, background: 80, peakVoltage: 10, backgroundVoltage: 10, duty: 0.4 };
    const { power, missedShare } = knownValue(pulsePower(steady));
    expect(power).toBeCloseTo(800, 9);
    expect(missedShare).toBeCloseTo(0, 12);
    expectRefusal(
      pulsePower({ ...steady, background: 81 }),
      'pulse-power: expected a background at or below the peak 80 A, got 81 A',
    );
  });
});

describe('limits', () => {
  it('root opening: 0.25 mm below a wall of 2.5 mm, 0.76 mm from there', () => {
    const at = (wall: number) => knownValue(rootGapLimit.evaluate({ wall }));
    expect([0.5e-3, 2.499e-3, 2.5e-3, 20e-3].map(at)).toEqual([0.25e-3, 0.25e-3, 0.76e-3, 0.76e-3]);
  });

  // Own arithmetic: 0.2 x 4 mm2 / 2 mm = 0.4 mm, and a twentieth of a gap of 2 mm.
  it('shrinkage grows with the gap', () => {
    expect(knownValue(shrinkageHigh.evaluate({ weldArea: 4e-6, wall: 2e-3, rootGap: 2e-3 }))).toBeCloseTo(0.5e-3, 12);
  });

  it('tacks: a seam of exactly six spacings takes six', () => {
    const spacing = 20e-3;
    expect(knownValue(tackCount.evaluate({ outsideDiameter: (6 * spacing) / Math.PI, spacing, minimum: 4 }))).toBe(6);
    expect(knownValue(tackCount.evaluate({ outsideDiameter: (6.01 * spacing) / Math.PI, spacing, minimum: 4 }))).toBe(
      7,
    );
  });

  it('purging: a target the gas itself does not reach says so, at and below its own oxygen', () => {
    const purge = { volume: 2e-3, flow: 1e-4, residual: 2e-5, initial: 0.209, deadLegFactor: 1 };
    for (const target of [2e-5, 1e-5])
      expectRefusal(
        purgeTime.evaluate({ ...purge, target }),
        `purge-time: expected a target above the oxygen in the gas (0.00002), got ${target}: it is never reached`,
      );
    expect(knownValue(purgeTime.evaluate({ ...purge, target: 0.2, initial: 0.1 }))).toBe(0);
  });
});
