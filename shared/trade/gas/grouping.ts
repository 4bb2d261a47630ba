import { derive, type Known, known } from '../../units/known.ts';
import { inconsistent } from '../data/validity.ts';
import { type Firing, firingAngles, fourStrokeCycle, groupSeparation } from './firing.ts';

/** One entry's cylinders (ascending) and the least angle between their pulses, rad. */
export interface Group {
  readonly cylinders: readonly number[];
  readonly separation: number;
}
/** A split of all cylinders; `separation` is that of the worst group, rad. */
export interface Grouping {
  readonly groups: readonly Group[];
  readonly separation: number;
}

/** Angles closer than this are the same, rad. */
const same = 1e-9;

/**
 * Split of the cylinders into `count` groups with the largest least pulse separation, by search over all partitions. Ties go to the
 * most even sizes, then to the larger separations of the other groups, then to the first in firing order. Bad order, intervals or
 * count: inconsistent. Source: own search; physically the separation should not be below the exhaust event (about 240 degrees or more).
 */
export function bestGrouping(order: readonly number[], intervals: readonly number[], count: number): Known<Grouping> {
  return derive({ firings: firingAngles(order, intervals) }, ({ firings }): Known<Grouping> => {
    if (!(Number.isInteger(count) && count >= 1 && count <= firings.length))
      return inconsistent(`groups of cylinders: expected a whole number from 1 to ${firings.length}, got ${count}`);
    const best = search(firings, count);
    return best ? known(best) : inconsistent(`groups of cylinders: no split of ${firings.length} into ${count}`);
  });
}

/** The separations of a split of the user's own, given as cylinder numbers; every cylinder in exactly one group, else inconsistent. */
export function groupingOf(
  order: readonly number[],
  intervals: readonly number[],
  groups: readonly (readonly number[])[],
): Known<Grouping> {
  return derive({ firings: firingAngles(order, intervals) }, ({ firings }): Known<Grouping> => {
    const named = groups.flat();
    const complete = named.length === firings.length && firings.every(({ cylinder }) => named.includes(cylinder));
    if (!complete || groups.some((group) => group.length === 0))
      return inconsistent(
        `groups of cylinders: expected each of 1 to ${firings.length} in one group, got ${groups.map((g) => g.join('+')).join(' / ')}`,
      );
    return known(gradedSplit(groups.map((group) => firings.filter(({ cylinder }) => group.includes(cylinder)))));
  });
}

/** Depth-first over restricted growth strings; adding a pulse never widens a group's gaps, so a branch below the best is cut. */
function search(firings: readonly Firing[], count: number): Grouping | null {
  let best: Grouping | null = null;
  const groups: Firing[][] = [];
  const visit = (index: number): void => {
    const firing = firings[index];
    if (!firing) {
      if (groups.length !== count) return;
      const graded = gradedSplit(groups);
      if (!best || better(graded, best)) best = graded;
      return;
    }
    if (groups.length + firings.length - index < count) return;
    for (const group of groups) {
      if (best && firing.angle - (group.at(-1)?.angle ?? 0) < best.separation - same) continue;
      group.push(firing);
      visit(index + 1);
      group.pop();
    }
    if (groups.length < count) {
      groups.push([firing]);
      visit(index + 1);
      groups.pop();
    }
  };
  visit(0);
  return best;
}

function gradedSplit(split: readonly (readonly Firing[])[]): Grouping {
  const groups = split
    .map((group): Group => {
      const separation = groupSeparation(group);
      return {
        cylinders: group.map(({ cylinder }) => cylinder).sort((a, b) => a - b),
        separation: separation.known ? separation.value : Number.NaN,
      };
    })
    .sort((a, b) => (a.cylinders[0] ?? 0) - (b.cylinders[0] ?? 0));
  return { groups, separation: groups.reduce((least, g) => Math.min(least, g.separation), fourStrokeCycle) };
}

function better(a: Grouping, b: Grouping): boolean {
  if (Math.abs(a.separation - b.separation) > same) return a.separation > b.separation;
  const [aSize, bSize] = [largest(a), largest(b)];
  if (aSize !== bSize) return aSize < bSize;
  const [aRest, bRest] = [ascending(a), ascending(b)];
  for (const [i, value] of aRest.entries()) {
    const other = bRest[i] ?? 0;
    if (Math.abs(value - other) > same) return value > other;
  }
  return false;
}

const largest = ({ groups }: Grouping) => Math.max(...groups.map(({ cylinders }) => cylinders.length));
const ascending = ({ groups }: Grouping) => groups.map(({ separation }) => separation).sort((a, b) => a - b);
