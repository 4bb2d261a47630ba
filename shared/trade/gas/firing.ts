import { type Known, known } from '../../units/known.ts';
import { inconsistent } from '../data/validity.ts';

/** Crank angle of a four-stroke cycle, rad. */
export const fourStrokeCycle = 4 * Math.PI;
/** Most cylinders the search is made for. */
export const mostCylinders = 12;

/** One cylinder's exhaust event: its number and its angle after the first one of the order, rad, 0 to 4 pi. */
export interface Firing {
  readonly cylinder: number;
  readonly angle: number;
}

/** Equal intervals of `cylinders` cylinders over two turns of the crank, rad. */
export function evenIntervals(cylinders: number): readonly number[] {
  return Array.from({ length: cylinders }, () => fourStrokeCycle / cylinders);
}

/**
 * Angle of every cylinder, in firing order. `order` names cylinders 1 to n once each (n up to 12); `intervals` (rad) has one entry for
 * each, from it to the next, and adds up to 4 pi. Anything else is inconsistent, said with what came. Source: definition.
 */
export function firingAngles(order: readonly number[], intervals: readonly number[]): Known<readonly Firing[]> {
  const n = order.length;
  if (n < 1 || n > mostCylinders)
    return inconsistent(`firing order: expected 1 to ${mostCylinders} cylinders, got ${n}`);
  const wanted = Array.from({ length: n }, (_, i) => i + 1);
  if (!wanted.every((cylinder) => order.includes(cylinder)))
    return inconsistent(`firing order: expected each of 1 to ${n} once, got ${order.join('-')}`);
  if (intervals.length !== n)
    return inconsistent(`firing intervals: expected ${n}, one for each cylinder, got ${intervals.length}`);
  const bad = intervals.find((interval) => !(interval > 0 && interval <= fourStrokeCycle));
  if (bad !== undefined) return inconsistent(`firing intervals: expected angles above 0 up to 4 pi rad, got ${bad}`);
  const total = intervals.reduce((sum, interval) => sum + interval, 0);
  if (Math.abs(total - fourStrokeCycle) > 1e-6)
    return inconsistent(`firing intervals: expected a sum of 4 pi rad (720 degrees), got ${total} rad`);
  let angle = 0;
  const firings: Firing[] = [];
  for (const [k, cylinder] of order.entries()) {
    firings.push({ cylinder, angle });
    angle += intervals[k] ?? Number.NaN;
  }
  return known(firings);
}

/** Smallest angle between two pulses of a group, rad, the gap over the end of the cycle counted; 4 pi for a single cylinder. */
export function groupSeparation(group: readonly Firing[]): Known<number> {
  const angles = group.map(({ angle }) => angle).sort((a, b) => a - b);
  const first = angles[0];
  const last = angles.at(-1);
  if (first === undefined || last === undefined)
    return inconsistent('group of cylinders: expected at least one, got none');
  if (!angles.every((angle) => angle >= 0 && angle < fourStrokeCycle))
    return inconsistent(`group of cylinders: expected angles from 0 to below 4 pi rad, got ${angles.join(', ')}`);
  let least = fourStrokeCycle - last + first;
  for (const [i, angle] of angles.entries())
    least = Math.min(least, (angles[i + 1] ?? Number.POSITIVE_INFINITY) - angle);
  return known(least);
}
