import type { ClearanceResult } from '../geometry/measurement.ts';
import type { BayComponent, Element, Runner } from '../spec/spec.ts';
import { at, derive, type Known, known, unknown } from '../units/known.ts';
import type { FactContext } from './context.ts';
import { scanGap } from './scanGap.ts';

/** The bay component a measured clearance names; `path` is that of the name. None or several of that name: inconsistent. */
export function namedComponent(context: FactContext, path: string, name: string | undefined): Known<BayComponent> {
  const { components } = context.spec;
  return derive({ name: at(path, name) }, (v): Known<BayComponent> => {
    const named = components.filter((c) => c.name === v.name);
    const [component] = named;
    if (component && named.length === 1) return known(component);
    const names = components.map((c) => c.name ?? c.id).join(', ');
    const detail = `expected the name of one bay component (${names}), got "${v.name}"`;
    return unknown({ reason: 'inconsistent', detail, paths: [path] });
  });
}

/** The model's gap for the runner and the component a mock-up clearance names; pending until the worker has measured it. */
export function modelGap(context: FactContext, row: Element<'clearances'>): Known<ClearanceResult> {
  return derive(
    {
      runner: runnerOf(context, row),
      component: namedComponent(context, `clearances.${row.id}.component`, row.component),
    },
    ({ runner, component }) => scanGap(context, runner, component),
  );
}

function runnerOf(context: FactContext, row: Element<'clearances'>): Known<Runner> {
  const { runners } = context.spec;
  const path = `clearances.${row.id}.cylinder`;
  const served = Object.fromEntries(runners.map((r) => [r.id, at<number>(`runners.${r.id}.cylinder`, r.cylinder)]));
  return derive({ cylinder: at<number>(path, row.cylinder), served: derive(served, known) }, (v): Known<Runner> => {
    const mine = runners.filter((r) => v.served[r.id] === v.cylinder);
    const [runner] = mine;
    if (runner && mine.length === 1) return known(runner);
    const detail = `expected a cylinder with one runner, got ${v.cylinder} with ${mine.length}`;
    return unknown({ reason: 'inconsistent', detail, paths: [path] });
  });
}
