import { type Known, known } from '../../units/known.ts';
import { inconsistent } from '../data/validity.ts';

/** A step of a plan: its name and the names of those that must be done before. */
export interface Activity {
  readonly id: string;
  readonly after: readonly string[];
}

/** The activities in an order in which each comes after those it waits for. A name twice, an unknown name or a circle: inconsistent, naming them. */
export function inOrder<A extends Activity>(activities: readonly A[]): Known<readonly A[]> {
  const ids = new Set(activities.map(({ id }) => id));
  if (activities.length === 0) return inconsistent('plan: expected at least one activity, got none');
  const twice = activities.find(({ id }, i) => activities.findIndex((other) => other.id === id) !== i);
  if (twice) return inconsistent(`plan: expected every activity once, got "${twice.id}" twice`);
  for (const { id, after } of activities) {
    const lost = after.find((before) => !ids.has(before));
    if (lost !== undefined) return inconsistent(`plan: expected "${id}" to wait for known activities, got "${lost}"`);
  }
  const done = new Set<string>();
  const ordered: A[] = [];
  let waiting: readonly A[] = activities;
  while (waiting.length > 0) {
    const ready = waiting.filter(({ after }) => after.every((before) => done.has(before)));
    if (ready.length === 0)
      return inconsistent(`plan: expected no circle, got one among ${waiting.map(({ id }) => id).join(', ')}`);
    for (const activity of ready) {
      done.add(activity.id);
      ordered.push(activity);
    }
    waiting = waiting.filter(({ id }) => !done.has(id));
  }
  return known(ordered);
}
