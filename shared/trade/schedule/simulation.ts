import { derive, type Known, known } from '../../units/known.ts';
import { inconsistent } from '../data/validity.ts';
import { percentile } from '../metrology/deviation-statistics.ts';
import { type DurationDraw, durationDraw, type Spread } from './duration-draw.ts';
import { inOrder } from './network.ts';
import { normalProbability, normalQuantile } from './normal.ts';
import type { EstimatedActivity } from './pert.ts';

/** A source of uniform numbers from 0 up to, not including, 1. */
export type Random = () => number;

/** An activity that may share a cause of delay (one supplier, one machine) with others of the same group. */
export interface SimulatedActivity extends EstimatedActivity {
  readonly group?: string;
}
/** How to simulate; the random source is the caller's, so equal seeds give equal answers. */
export interface SimulationSettings {
  readonly random: Random;
  /** 100 to 1 000 000; at least 10 000 for a promise. */
  readonly runs: number;
  readonly spread: Spread;
  /** Correlation of the normal scores inside a group, 0 to 1; 0 when left out. */
  readonly correlation?: number;
}
/** Simulated ends of a plan, in its unit of time. */
export interface Simulation {
  /** Every run's end, ascending. */
  readonly finishes: readonly number[];
  readonly mean: number;
  readonly p10: number;
  readonly p50: number;
  readonly p80: number;
  readonly p95: number;
}

/** Ends of a plan by repeated draws of every duration. Bad network, estimate or settings: inconsistent. Source: Monte Carlo; a common normal factor per group (own). */
export function simulatePlan(
  activities: readonly SimulatedActivity[],
  settings: SimulationSettings,
): Known<Simulation> {
  const { runs, correlation = 0 } = settings;
  if (!(Number.isInteger(runs) && runs >= 100 && runs <= 1_000_000))
    return inconsistent(`simulation: expected a whole number of runs from 100 to 1000000, got ${runs}`);
  if (!(correlation >= 0 && correlation <= 1))
    return inconsistent(`simulation: expected a correlation from 0 to 1, got ${correlation}`);
  return derive({ ordered: inOrder(activities) }, ({ ordered }): Known<Simulation> => {
    const draws = new Map<string, DurationDraw>();
    for (const { id, estimate } of ordered) {
      const draw = durationDraw(estimate, settings.spread);
      if (!draw.known) return draw;
      draws.set(id, draw.value);
    }
    const finishes = Array.from({ length: runs }, () => oneRun(ordered, draws, settings));
    finishes.sort((a, b) => a - b);
    const at = (share: number) => percentile(finishes, share);
    const mean = finishes.reduce((sum, finish) => sum + finish, 0) / runs;
    return known({ finishes, mean, p10: at(0.1), p50: at(0.5), p80: at(0.8), p95: at(0.95) });
  });
}

/** Share of runs done by a date. */
export function shareBy(simulation: Simulation, date: number): number {
  return simulation.finishes.filter((finish) => finish <= date).length / simulation.finishes.length;
}

function oneRun(
  ordered: readonly SimulatedActivity[],
  draws: ReadonlyMap<string, DurationDraw>,
  { random, correlation = 0 }: SimulationSettings,
): number {
  const common = new Map<string, number>();
  const ends = new Map<string, number>();
  let finish = 0;
  for (const { id, after, group } of ordered) {
    let uniform = random();
    if (group !== undefined && correlation > 0) {
      const factor = common.get(group) ?? normalQuantile(clear(random()));
      common.set(group, factor);
      const own = normalQuantile(clear(uniform));
      uniform = normalProbability(Math.sqrt(correlation) * factor + Math.sqrt(1 - correlation) * own);
    }
    const start = after.reduce((latest, before) => Math.max(latest, ends.get(before) ?? Number.NaN), 0);
    const end = start + (draws.get(id)?.(uniform) ?? Number.NaN);
    ends.set(id, end);
    finish = Math.max(finish, end);
  }
  return finish;
}

/** Keeps a uniform number off 0, where its normal score is infinite. */
const clear = (uniform: number) => Math.max(uniform, 1e-16);
