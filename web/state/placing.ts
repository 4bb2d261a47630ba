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
