/** A tabulated point: argument, value. */
export type Point = readonly [number, number];

/** Straight-line value of a table sorted by argument; null outside the table (no extrapolation) and for NaN. */
export function interpolate(table: readonly Point[], x: number): number | null {
  let before: Point | null = null;
  for (const point of table) {
    if (x === point[0]) return point[1];
    if (x < point[0])
      return before ? before[1] + ((x - before[0]) / (point[0] - before[0])) * (point[1] - before[1]) : null;
    before = point;
  }
  return null;
}

/** A chart: one curve for each value of the second argument, sorted by it. */
export type Curve = readonly [number, readonly Point[]];

/** Bilinear value of a chart at (`x` along a curve, `y` across the curves); null outside the chart. */
export function interpolateChart(chart: readonly Curve[], x: number, y: number): number | null {
  const across: Point[] = [];
  for (const [at, curve] of chart) {
    const value = interpolate(curve, x);
    if (value === null) return null;
    across.push([at, value]);
  }
  return interpolate(across, y);
}

/** First and last argument of a table; [NaN, NaN] when it is empty, which no value lies in. */
export function tableRange(table: readonly Point[]): readonly [number, number] {
  return [table[0]?.[0] ?? Number.NaN, table.at(-1)?.[0] ?? Number.NaN];
}
