import { type FactContext, MemoStore } from '../../shared/quantities/context.ts';
import { datumFit, type Registration, registration } from '../../shared/quantities/registration.ts';
import type { Spec } from '../../shared/spec/spec.ts';
import type { Known } from '../../shared/units/known.ts';
import type { Placing } from '../scene/scan.ts';

/** How the scan lies by the datum points as they are typed now, for the screen: the checks judge it themselves. */
interface Fit {
  readonly placing: Placing | null;
  readonly registration: Known<Registration>;
}

const fits = new WeakMap<Spec['datums'], Fit>();

function fitOf(spec: Spec): Fit {
  const there = fits.get(spec.datums);
  if (there) return there;
  const context: Pick<FactContext, 'spec' | 'memo'> = { spec, memo: new MemoStore().memo };
  const fit = datumFit(context);
  const made = { placing: fit.known ? fit.value : null, registration: registration(context) };
  fits.set(spec.datums, made);
  return made;
}

/** Where scans that are placed by datums go; null while the datum points fix no place: they are shown as uploaded then, to be picked on. */
export const placingOf = (spec: Spec): Placing | null => fitOf(spec).placing;

/** What the fit leaves at a datum point, metres; null while there is no fit. */
export function residualOf(spec: Spec, datum: string): number | null {
  const found = fitOf(spec).registration;
  if (!found.known) return null;
  return found.value.pairs.find(({ id }) => id === datum)?.residual ?? null;
}

/** What the fit leaves over all datum points, metres; null while there is no fit. */
export function fitOfDatums(spec: Spec): Registration | null {
  const found = fitOf(spec).registration;
  return found.known ? found.value : null;
}

/** A datum point that fits badly to all the others, and what is left without it, metres. */
export interface Suspect {
  readonly id: string;
  readonly name: string;
  readonly without: number;
}

/** With fewer, what is left without one is no evidence: three points fit almost anything. */
const LEAST_TO_JUDGE = 5;
/** How much better the others fit without it (own: noise of the same size at every point hardly ever does so). */
const BETTER = 4;

const suspects = new WeakMap<Spec['datums'], Suspect | null>();

/** The datum point without which the others fit far better; null while there is none. A bad point spreads its error over all: the largest rest alone does not name it. */
export function suspectOf(spec: Spec): Suspect | null {
  const there = suspects.get(spec.datums);
  if (there !== undefined) return there;
  const found = findSuspect(spec);
  suspects.set(spec.datums, found);
  return found;
}

function findSuspect(spec: Spec): Suspect | null {
  const all = fitOfDatums(spec);
  if (!all || all.count < LEAST_TO_JUDGE) return null;
  const without = spec.datums.flatMap(({ id, name }) => {
    const fit = fitOfDatums({ ...spec, datums: spec.datums.filter((row) => row.id !== id) });
    return fit ? [{ id, name: name ?? id, without: fit.worstResidual }] : [];
  });
  const [best] = without.toSorted((a, b) => a.without - b.without);
  return best && all.worstResidual > BETTER * best.without ? best : null;
}

/** Names of the datum points that lack a number: there is no fit before each has all six. */
export function unfinishedDatums(spec: Spec): readonly string[] {
  return spec.datums
    .filter((row) =>
      [row.scanX, row.scanY, row.scanZ, row.carX, row.carY, row.carZ].some((value) => value === undefined),
    )
    .map(({ id, name }) => name ?? id);
}
