import { factTitle, factWords } from '../../shared/gates/factWords.ts';
import { buildCentreline, type Centreline } from '../../shared/geometry/centreline.ts';
import { largestShift } from '../../shared/geometry/shift.ts';
import type { Comparison } from '../../shared/protocol/revisions.ts';
import { nodeTable } from '../../shared/quantities/centreline.ts';
import { findRule } from '../../shared/rules/registry.ts';
import type { Verdict } from '../../shared/rules/verdict.ts';
import { verdictWords } from '../../shared/rules/words.ts';
import { compareSpecs, type RowChange } from '../../shared/spec/compare.ts';
import type { Runner, Spec } from '../../shared/spec/spec.ts';

/** A shift below this is none, metres: far below what rounding of a typed inch leaves. */
const NO_SHIFT = 1e-9;

/** Two specs side by side. */
export interface Pair<T> {
  readonly before: T;
  readonly after: T;
}

/** What differs in the sheet, in words. */
export function sectionsOf({ before, after }: Pair<Spec>): Comparison['sections'] {
  return compareSpecs(before, after).map(({ title, rows, fields }) => ({
    title,
    rows: rows.map((row) => rowWords(row, { before, after })),
    fields: fields.map((field) => ({
      path: field.path,
      title: factTitle(field.path, after),
      from: factWords(field.path, field.before, before),
      to: factWords(field.path, field.after, after),
    })),
  }));
}

function rowWords({ kind, path, before: was, after: is }: RowChange, { before, after }: Pair<Spec>) {
  const title = factTitle(path, kind === 'removed' ? before : after);
  const [from, to] = {
    added: ['not there', 'there'],
    removed: ['there', 'not there'],
    renamed: [was ?? 'no name', is ?? 'no name'],
    moved: ['another place', 'this place'],
  }[kind] as [string, string];
  return { kind, path, title: kind === 'renamed' ? `${title}: name` : title, from, to };
}

/** Verdicts whose state differs, and those of which it cannot be said. */
export function verdictsOf({
  before,
  after,
}: Pair<ReadonlyMap<string, Verdict>>): Pick<Comparison, 'flipped' | 'notMeasured'> {
  const flipped: Comparison['flipped'] = [];
  const notMeasured: Comparison['notMeasured'] = [];
  for (const key of new Set([...before.keys(), ...after.keys()])) {
    const [was, is] = [before.get(key), after.get(key)];
    const one = is ?? was;
    if (!one) continue;
    const head = { key, rule: findRule(one.rule)?.title ?? one.rule, subject: one.subject.name };
    if (isPending(was) || isPending(is)) notMeasured.push(head);
    else if (stateOf(was) !== stateOf(is)) flipped.push({ ...head, before: words(was), after: words(is) });
  }
  return { flipped, notMeasured };
}

function isPending(verdict: Verdict | undefined): boolean {
  return verdict?.status === 'unknown' && verdict.why.reason === 'pending';
}

function stateOf(verdict: Verdict | undefined): string {
  if (!verdict) return 'none';
  return verdict.status === 'pass' && verdict.close ? 'close' : verdict.status;
}

function words(verdict: Verdict | undefined): Comparison['flipped'][number]['before'] {
  const rule = verdict && findRule(verdict.rule);
  if (!verdict || !rule) return null;
  const { label, mark, measured } = verdictWords(verdict, rule);
  return { label, mark, measured };
}

/** How far each runner moved. */
export function runnersOf({ before, after }: Pair<Spec>): Comparison['runners'] {
  const gone = before.runners.filter(({ id }) => !after.runners.some((runner) => runner.id === id));
  const kept = after.runners.map((runner) => {
    const was = before.runners.find(({ id }) => id === runner.id);
    return { ...nameOf(runner), ...(was ? shiftOf(was, runner) : { state: 'added' as const, largest: null }) };
  });
  return [...kept, ...gone.map((runner) => ({ ...nameOf(runner), state: 'removed' as const, largest: null }))];
}

const nameOf = ({ id, name }: Runner) => ({ id, name: name ?? id });

function shiftOf(was: Runner, is: Runner): Pick<Comparison['runners'][number], 'state' | 'largest'> {
  const [then, now] = [lineOf(was), lineOf(is)];
  if (!then || !now) return { state: 'unknown', largest: null };
  const largest = largestShift(then, now);
  return largest > NO_SHIFT ? { state: 'moved', largest } : { state: 'same', largest: 0 };
}

function lineOf(runner: Runner): Centreline | null {
  const table = nodeTable(runner);
  const line = table.known ? buildCentreline(table.value) : null;
  return line?.ok ? line : null;
}
