import { derive, type Known, known } from '../../units/known.ts';
import { inconsistent } from '../data/validity.ts';
import { type Activity, inOrder } from './network.ts';

/** An activity with a fixed duration, in any one unit of time. */
export interface TimedActivity extends Activity {
  readonly duration: number;
}
/** Earliest and latest dates of an activity and its floats, from the start of the plan. */
export interface Dates {
  readonly id: string;
  readonly earlyStart: number;
  readonly earlyFinish: number;
  readonly lateStart: number;
  readonly lateFinish: number;
  /** What it may slip without moving the end. */
  readonly totalFloat: number;
  /** What it may slip without moving any other activity. */
  readonly freeFloat: number;
}
/** Dates of a plan, in working order, its end, and one longest path. */
export interface CriticalPath {
  readonly finish: number;
  readonly dates: readonly Dates[];
  readonly path: readonly string[];
}

/** Dates by the critical path method. A bad network or a duration that is negative or not finite: inconsistent. Source: CPM, any operations research text. */
export function criticalPath(activities: readonly TimedActivity[]): Known<CriticalPath> {
  const bad = activities.find(({ duration }) => !(duration >= 0 && Number.isFinite(duration)));
  if (bad) return inconsistent(`plan: expected a finite duration of at least 0 for "${bad.id}", got ${bad.duration}`);
  return derive({ ordered: inOrder(activities) }, ({ ordered }) => {
    const early = earlyFinishes(ordered);
    const finish = Math.max(...early.values());
    const late = lateFinishes(ordered, finish);
    const nextStart = new Map<string, number>();
    for (const { id, duration, after } of ordered) {
      const start = (early.get(id) ?? Number.NaN) - duration;
      for (const before of after)
        nextStart.set(before, Math.min(nextStart.get(before) ?? Number.POSITIVE_INFINITY, start));
    }
    const dates = ordered.map(({ id, duration }): Dates => {
      const earlyFinish = early.get(id) ?? Number.NaN;
      const lateFinish = late.get(id) ?? Number.NaN;
      return {
        id,
        earlyStart: earlyFinish - duration,
        earlyFinish,
        lateStart: lateFinish - duration,
        lateFinish,
        totalFloat: lateFinish - earlyFinish,
        freeFloat: (nextStart.get(id) ?? finish) - earlyFinish,
      };
    });
    return known({ finish, dates, path: longestPath(ordered, early) });
  });
}

/** Earliest finish of each activity of an ordered plan. */
export function earlyFinishes(ordered: readonly TimedActivity[]): ReadonlyMap<string, number> {
  const finishes = new Map<string, number>();
  for (const { id, duration, after } of ordered)
    finishes.set(
      id,
      after.reduce((start, before) => Math.max(start, finishes.get(before) ?? Number.NaN), 0) + duration,
    );
  return finishes;
}

function lateFinishes(ordered: readonly TimedActivity[], finish: number): ReadonlyMap<string, number> {
  const late = new Map<string, number>();
  for (const { id, duration, after } of [...ordered].reverse()) {
    const own = late.get(id) ?? finish;
    late.set(id, own);
    for (const before of after) late.set(before, Math.min(late.get(before) ?? finish, own - duration));
  }
  return late;
}

/** Back from the activity that ends last, always to the predecessor that ends last. */
function longestPath(ordered: readonly TimedActivity[], early: ReadonlyMap<string, number>): readonly string[] {
  const lastOf = (ids: readonly string[]) =>
    ids.reduce<string | null>(
      (best, id) => (best === null || (early.get(id) ?? 0) > (early.get(best) ?? 0) ? id : best),
      null,
    );
  const path: string[] = [];
  let at = lastOf(ordered.map(({ id }) => id));
  while (at !== null) {
    const id: string = at;
    path.unshift(id);
    at = lastOf(ordered.find((activity) => activity.id === id)?.after ?? []);
  }
  return path;
}
