import { derive, type Known, known } from '../../units/known.ts';
import { inconsistent } from '../data/validity.ts';
import { type Estimate, estimateDeviation, estimateFault, estimateMean } from './estimate.ts';
import { type Activity, inOrder } from './network.ts';
import { normalProbability } from './normal.ts';

/** An activity with three estimates, in any one unit of time. */
export interface EstimatedActivity extends Activity {
  readonly estimate: Estimate;
}
/** End of a plan as PERT sees it: normal, along the one path with the longest mean. */
export interface PertFinish {
  readonly mean: number;
  readonly variance: number;
  readonly path: readonly string[];
}

/**
 * Mean and variance of the end along the longest mean path; of equal ones the more uncertain counts. Optimistic: where paths merge, the
 * later of two uncertain dates is later than either mean, so simulate before promising. A bad network or estimate: inconsistent.
 * Source: PERT, any operations research text.
 */
export function pertFinish(activities: readonly EstimatedActivity[]): Known<PertFinish> {
  for (const { id, estimate } of activities) {
    const wrong = estimateFault(estimate);
    if (wrong) return inconsistent(`plan: "${id}": ${wrong}`);
  }
  return derive({ ordered: inOrder(activities) }, ({ ordered }) => {
    const none: PertFinish = { mean: 0, variance: 0, path: [] };
    const ends = new Map<string, PertFinish>();
    for (const { id, estimate, after } of ordered) {
      const start = after.map((before) => ends.get(before) ?? none).reduce(later, none);
      ends.set(id, {
        mean: start.mean + estimateMean(estimate),
        variance: start.variance + estimateDeviation(estimate) ** 2,
        path: [...start.path, id],
      });
    }
    return known([...ends.values()].reduce(later, none));
  });
}

function later(a: PertFinish, b: PertFinish): PertFinish {
  if (Math.abs(a.mean - b.mean) > 1e-9 * Math.max(a.mean, b.mean)) return a.mean > b.mean ? a : b;
  return b.variance > a.variance || (b.variance === a.variance && a.path.length === 0) ? b : a;
}

/** Chance of being done by `date` when the end is normal with `mean` and `variance`; no variance: 0 or 1. Not finite or negative variance: inconsistent. */
export function chanceBy(date: number, end: { readonly mean: number; readonly variance: number }): Known<number> {
  const { mean, variance } = end;
  if (!(variance >= 0) || ![date, mean, variance].every(Number.isFinite))
    return inconsistent(
      `chance by a date: expected finite numbers and a variance of at least 0, got ${date}, ${mean}, ${variance}`,
    );
  if (variance === 0) return known(mean <= date ? 1 : 0);
  return known(normalProbability((date - mean) / Math.sqrt(variance)));
}
