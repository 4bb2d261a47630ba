import { type Firing, firingAngles, fourStrokeCycle, groupSeparation } from '../trade/gas/firing.ts';
import { bestGrouping } from '../trade/gas/grouping.ts';
import { at, derive, type Known, known, unknown } from '../units/known.ts';
import type { FactContext } from './context.ts';
import { cylinderShare } from './runnerFlow.ts';

/** How the pulses of a divided turbine inlet lie apart. */
export interface PulsePairing {
  /** Smallest crank angle between two pulses of one entry, rad. */
  readonly separation: number;
  /** The same for the best split of these cylinders there is, rad. */
  readonly best: number;
  /** Cylinders of each entry, and those of the best split, as `1+4 / 2+3`. */
  readonly split: string;
  readonly bestSplit: string;
}

const degree = Math.PI / 180;

/** Pulse separation of the split over two turbine entries that the runners make, against the best there is. Only cylinders with a runner count. */
export function pulsePairing(context: FactContext): Known<PulsePairing> {
  const { runners, engine } = context.spec;
  const deps = [runners, engine.firingOrder, engine.firingIntervals];
  return context.memo('pulse-pairing', deps, () =>
    derive({ angles: angles(context), fed: fedEntries(context) }, (v) => {
      const fired = v.angles.filter(({ cylinder }) => v.fed.has(cylinder));
      const groups = [1, 2].map((entry) => fired.filter(({ cylinder }) => v.fed.get(cylinder) === entry));
      const [first = [], second = []] = groups;
      return derive(
        { first: groupSeparation(first), second: groupSeparation(second), best: bestOf(fired) },
        (separations) =>
          known({
            separation: Math.min(separations.first, separations.second),
            best: separations.best.separation,
            split: splitWords(groups.map((group) => group.map(({ cylinder }) => cylinder))),
            bestSplit: splitWords(separations.best.groups),
          }),
      );
    }),
  );
}

function angles(context: FactContext): Known<readonly Firing[]> {
  const { firingOrder, firingIntervals } = context.spec.engine;
  return derive(
    {
      order: at('engine.firingOrder', firingOrder),
      intervals: at('engine.firingIntervals', firingIntervals),
    },
    ({ order, intervals }) =>
      firingAngles(
        order,
        intervals.map((each) => each * degree),
      ),
  );
}

/** Entry by cylinder; both entries must be fed. */
function fedEntries(context: FactContext): Known<ReadonlyMap<number, number>> {
  const { runners } = context.spec;
  const facts = runners.map((r) => ({
    // Asked for its checks: one runner for each cylinder, and a cylinder of the firing order.
    share: cylinderShare(context, r),
    cylinder: at<number>(`runners.${r.id}.cylinder`, r.cylinder),
    entry: at<number>(`runners.${r.id}.entry`, r.entry),
  }));
  const flat = Object.fromEntries(
    facts.flatMap((fact, i) => Object.entries(fact).map(([key, value]) => [`${i}/${key}`, value])),
  );
  return derive(flat, (v): Known<ReadonlyMap<number, number>> => {
    const fed = new Map(facts.map((_, i) => [v[`${i}/cylinder`] ?? 0, v[`${i}/entry`] ?? 0]));
    const idle = [1, 2].find((entry) => ![...fed.values()].includes(entry));
    if (idle === undefined) return known(fed);
    const detail = `expected at least one runner on each turbine entry, got none on entry ${idle}`;
    return unknown({ reason: 'inconsistent', detail, paths: runners.map((r) => `runners.${r.id}.entry`) });
  });
}

/** Best split of some cylinders over two entries: they are numbered by turn, as an engine of their own. */
function bestOf(fired: readonly Firing[]): Known<{ separation: number; groups: number[][] }> {
  const order = fired.map((_, i) => i + 1);
  const gaps = fired.map(({ angle }, i) => (fired[i + 1]?.angle ?? fourStrokeCycle + (fired[0]?.angle ?? 0)) - angle);
  return derive({ best: bestGrouping(order, gaps, 2) }, ({ best }) =>
    known({
      separation: best.separation,
      groups: best.groups.map((group) => group.cylinders.map((turn) => fired[turn - 1]?.cylinder ?? 0)),
    }),
  );
}

function splitWords(groups: readonly (readonly number[])[]): string {
  return groups.map((group) => [...group].sort((a, b) => a - b).join('+')).join(' / ');
}
