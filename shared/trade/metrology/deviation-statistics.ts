import { type Known, known } from '../../units/known.ts';
import { inconsistent } from '../data/validity.ts';

/** Figures of a list of signed deviations, in their unit. State with them what they are measured from: best fit or datum. */
export interface DeviationStatistics {
  readonly count: number;
  /** Bias. */
  readonly mean: number;
  /** Sample standard deviation (n - 1). */
  readonly deviation: number;
  readonly rms: number;
  readonly p05: number;
  readonly p50: number;
  readonly p95: number;
  /** 95th percentile of the sizes. */
  readonly p95Size: number;
  /** Largest size. */
  readonly largest: number;
}

/** Percentile (share 0 to 1) of an ascending list by linear interpolation at (n - 1) p; NaN for an empty list. */
export function percentile(ascending: readonly number[], share: number): number {
  const place = (ascending.length - 1) * share;
  const low = ascending[Math.floor(place)] ?? Number.NaN;
  const high = ascending[Math.ceil(place)] ?? Number.NaN;
  return low + (high - low) * (place - Math.floor(place));
}

/** Statistics of at least two finite deviations; fewer or not finite: inconsistent. Source: definitions. */
export function deviationStatistics(values: readonly number[]): Known<DeviationStatistics> {
  const count = values.length;
  if (count < 2) return inconsistent(`deviation statistics: expected at least 2 values, got ${count}`);
  const bad = values.findIndex((value) => !Number.isFinite(value));
  if (bad >= 0) return inconsistent(`deviation statistics: expected finite values, got ${values[bad]} at ${bad}`);
  const mean = values.reduce((sum, value) => sum + value, 0) / count;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const ascending = [...values].sort((a, b) => a - b);
  const sizes = values.map(Math.abs).sort((a, b) => a - b);
  return known({
    count,
    mean,
    deviation: Math.sqrt(squares / (count - 1)),
    rms: Math.sqrt(values.reduce((sum, value) => sum + value ** 2, 0) / count),
    p05: percentile(ascending, 0.05),
    p50: percentile(ascending, 0.5),
    p95: percentile(ascending, 0.95),
    p95Size: percentile(sizes, 0.95),
    largest: sizes.at(-1) ?? Number.NaN,
  });
}
