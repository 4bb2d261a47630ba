/** One change as told, whatever else it carries. */
export interface ToldChange {
  readonly path: string;
  readonly by: string;
  /** ISO 8601; null when no time was kept. */
  readonly at: string | null;
  readonly before?: unknown;
  readonly after?: unknown;
}

/** Changes of one field by one person closer together than this are one to people: a drag, a burst of typing (own). */
const ONE_RUN_MS = 10_000;

/**
 * Joins changes of the same field by the same person, each within ten seconds of the next, into one from the first value to the last.
 * Newest first, as given; one that comes back to where it began is left out. Pure.
 */
export function joinRuns<C extends ToldChange>(changes: readonly C[]): readonly C[] {
  const out: C[] = [];
  /** Where the run of a path that may still go on stands in `out`, and when its oldest change so far was. */
  const open = new Map<string, { readonly index: number; readonly at: number; readonly by: string }>();
  for (const change of changes) {
    const at = change.at === null ? Number.NaN : Date.parse(change.at);
    const run = open.get(change.path);
    const newer = run && out[run.index];
    if (run && newer && run.by === change.by && run.at - at <= ONE_RUN_MS) {
      out[run.index] = { ...newer, before: change.before };
      open.set(change.path, { ...run, at });
    } else {
      open.set(change.path, { index: out.length, at, by: change.by });
      out.push(change);
    }
  }
  return out.filter(({ before, after }) => JSON.stringify(before) !== JSON.stringify(after));
}
