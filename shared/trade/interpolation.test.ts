import { describe, expect, it } from 'vitest';
import { interpolate, interpolateChart, tableRange } from './interpolation.ts';

const table = [
  [0, 10],
  [2, 20],
  [5, 5],
] as const;

describe('interpolate', () => {
  it('hits every tabulated point and runs straight between them', () => {
    for (const [x, y] of table) expect(interpolate(table, x)).toBe(y);
    expect(interpolate(table, 1)).toBe(15);
    expect(interpolate(table, 3.5)).toBe(12.5);
  });

  it.each([-1e-9, 5.0001, Number.NaN, Number.POSITIVE_INFINITY])('has no value at %d', (x) => {
    expect(interpolate(table, x)).toBeNull();
  });

  it('has no value in an empty table', () => {
    expect(interpolate([], 0)).toBeNull();
    expect(tableRange([])).toEqual([Number.NaN, Number.NaN]);
  });
});

describe('interpolateChart', () => {
  const chart = [
    [
      0,
      [
        [0, 0],
        [10, 10],
      ],
    ],
    [
      1,
      [
        [0, 100],
        [10, 200],
      ],
    ],
  ] as const;

  it('is bilinear', () => {
    expect(interpolateChart(chart, 5, 0)).toBe(5);
    expect(interpolateChart(chart, 5, 1)).toBe(150);
    expect(interpolateChart(chart, 5, 0.5)).toBe(77.5);
  });

  it('has no value outside either axis', () => {
    expect(interpolateChart(chart, 11, 0.5)).toBeNull();
    expect(interpolateChart(chart, 5, 1.1)).toBeNull();
  });
});
