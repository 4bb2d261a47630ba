import { type Known, known } from '../../units/known.ts';
import { inconsistent } from '../data/validity.ts';

/** Three estimates of one duration, in any one unit of time. */
export interface Estimate {
  readonly optimistic: number;
  readonly likely: number;
  readonly pessimistic: number;
}

/** What is wrong with an estimate, or null: the three must be finite, not negative, and in order. */
export function estimateFault({ optimistic, likely, pessimistic }: Estimate): string | null {
  const sound =
    optimistic >= 0 && likely >= optimistic && pessimistic >= likely && pessimistic < Number.POSITIVE_INFINITY;
  return sound
    ? null
    : `expected 0 <= optimistic <= likely <= pessimistic, got ${optimistic}, ${likely} and ${pessimistic}`;
}

/** (o + 4m + p)/6. */
export const estimateMean = (e: Estimate): number => (e.optimistic + 4 * e.likely + e.pessimistic) / 6;
/** (p - o)/6. */
export const estimateDeviation = (e: Estimate): number => (e.pessimistic - e.optimistic) / 6;

/** Beta distribution over [o, p] with the PERT mean; its own standard deviation is not (p - o)/6. */
export interface BetaShape {
  readonly alpha: number;
  readonly beta: number;
  readonly mean: number;
  readonly deviation: number;
}

/** Beta-PERT shape of an estimate: alpha = 1 + 4(m-o)/(p-o), beta = 1 + 4(p-m)/(p-o). No spread or a bad order: inconsistent. Source: PERT (from memory). */
export function betaShape(estimate: Estimate): Known<BetaShape> {
  const wrong = estimateFault(estimate);
  const width = estimate.pessimistic - estimate.optimistic;
  if (wrong || !(width > 0)) return inconsistent(`beta-PERT: ${wrong ?? 'expected a spread above 0, got none'}`);
  const alpha = 1 + (4 * (estimate.likely - estimate.optimistic)) / width;
  const beta = 1 + (4 * (estimate.pessimistic - estimate.likely)) / width;
  // alpha + beta is always 6, so the variance is alpha beta / (36 x 7).
  const deviation = width * Math.sqrt((alpha * beta) / 252);
  return known({ alpha, beta, mean: estimateMean(estimate), deviation });
}
