import { type Known, known } from '../../units/known.ts';
import { contradiction } from '../limits.ts';

/** As-printed deviations in the unit they came in. */
export interface DeviationSummary {
  readonly count: number;
  readonly mean: number;
  /** Sample standard deviation (n - 1). */
  readonly spread: number;
  readonly rootMeanSquare: number;
  /** Signed 5, 50 and 95 % points. */
  readonly low: number;
  readonly median: number;
  readonly high: number;
  /** 95 % point of the sizes, and the greatest size. */
  readonly size95: number;
  readonly largest: number;
}

/** Percentile by straight-line interpolation at position (n - 1) p of the sorted values. */
function percentile(sorted: readonly number[], p: number): number {
  const at = (sorted.length - 1) * p;
  const below = sorted[Math.floor(at)] ?? Number.NaN;
  const above = sorted[Math.ceil(at)] ?? Number.NaN;
  return below + (above - below) * (at - Math.floor(at));
}

/** Summary of at least two finite deviations. Source: common practice for as-printed reports; percentiles at (n - 1) p. */
export function deviationSummary(deviations: readonly number[]): Known<DeviationSummary> {
  if (deviations.length < 2) return contradiction(`deviations: expected at least two, got ${deviations.length}`);
  const bad = deviations.findIndex((value) => !Number.isFinite(value));
  if (bad >= 0) return contradiction(`deviations: expected finite values, got ${deviations[bad]} at ${bad + 1}`);
  const count = deviations.length;
  const mean = deviations.reduce((sum, value) => sum + value, 0) / count;
  const squares = deviations.reduce((sum, value) => sum + value ** 2, 0);
  const about = deviations.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const sorted = [...deviations].sort((a, b) => a - b);
  const sizes = deviations.map(Math.abs).sort((a, b) => a - b);
  return known({
    count,
    mean,
    spread: Math.sqrt(about / (count - 1)),
    rootMeanSquare: Math.sqrt(squares / count),
    low: percentile(sorted, 0.05),
    median: percentile(sorted, 0.5),
    high: percentile(sorted, 0.95),
    size95: percentile(sizes, 0.95),
    largest: sizes.at(-1) ?? Number.NaN,
  });
}
