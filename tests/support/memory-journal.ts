import type { ChangePlace, Changes, KeptChange } from '../../server/storage/changes.ts';
import { type Journal, JournalFault } from '../../server/storage/ports.ts';

interface Kept {
  readonly project: string;
  readonly doc: string;
  readonly seq: number;
  readonly kind: 'update' | 'snapshot';
  readonly account: string;
  readonly at: number;
  readonly body: Uint8Array;
}

/** A journal that ends with the process, with a switch that makes its writes fail. */
export interface MemoryJournal extends Journal {
  /** While true, every write fails as a broken disk would make it. */
  broken: boolean;
}

export function memoryJournal(clock: () => number = () => 0): MemoryJournal {
  let kept: Kept[] = [];
  const heads = new Map<string, number>();
  let trouble = false;
  let closed = false;
  const refuse = (): JournalFault | undefined => {
    if (closed) return new JournalFault('closed', 'the journal is closed');
    if (trouble) return new JournalFault('read-only', 'the journal takes no writes since one failed');
    trouble = journal.broken;
    return trouble ? new JournalFault('write-failed', 'the journal could not write') : undefined;
  };
  const journal: MemoryJournal = {
    broken: false,
    get readOnly() {
      return trouble;
    },
    append: async (project, doc, update, account) => {
      const fault = refuse();
      if (fault) throw fault;
      const seq = (heads.get(project) ?? 0) + 1;
      heads.set(project, seq);
      kept.push({ project, doc, seq, kind: 'update', account, at: clock(), body: Uint8Array.from(update) });
      return seq;
    },
    load: async (project, doc) => {
      if (closed) throw new JournalFault('closed', 'the journal is closed');
      const own = kept.filter((one) => one.project === project && one.doc === doc);
      return { updates: own.map(({ body }) => Uint8Array.from(body)), seq: own.at(-1)?.seq ?? 0 };
    },
    replaceWithSnapshot: async (project, doc, snapshot, upToSeq) => {
      const fault = refuse();
      if (fault) throw fault;
      const of = (one: Kept) => one.project === project && one.doc === doc;
      const last = kept.find((one) => of(one) && one.seq === upToSeq);
      if (!last) {
        throw new JournalFault('unknown-sequence', `${doc} in ${project} has no entry ${upToSeq}`);
      }
      const body = Uint8Array.from(snapshot);
      const rest = kept.filter((one) => !of(one) || one.seq > upToSeq);
      kept = [...rest, { ...last, kind: 'snapshot' as const, body }].sort((a, b) => a.seq - b.seq);
    },
    changes: memoryChanges((project) => kept.filter((one) => one.project === project && one.doc === 'spec')),
    head: async (project) => heads.get(project) ?? 0,
    recover: async () => {
      if (closed) throw new JournalFault('closed', 'the journal is closed');
      if (journal.broken) throw new JournalFault('write-failed', 'the journal could not write');
      trouble = false;
    },
    close: async () => {
      closed = true;
    },
  };
  return journal;
}

function memoryChanges(entries: (project: string) => readonly Kept[]): Changes {
  const told = new Map<string, number>();
  const all: (KeptChange & { readonly project: string })[] = [];
  return {
    told: async (project) => told.get(project) ?? 0,
    keep: async ({ project, from, upTo, changes }) => {
      if ((told.get(project) ?? 0) !== from) return 'moved';
      const missing = changes.find(({ seq }) => !entries(project).some((one) => one.seq === seq));
      if (missing) throw new Error(`there is no entry ${missing.seq} of ${project}`);
      for (const change of changes) {
        const entry = entries(project).find((one) => one.seq === change.seq);
        if (!entry) continue;
        const n = all.filter((one) => one.project === project && one.seq === change.seq).length;
        all.push({ ...plain(change), project, n, account: entry.account, at: entry.at });
      }
      told.set(project, upTo);
      return 'kept';
    },
    of: async ({ project, path, after, before, limit }) =>
      all
        .filter((one) => one.project === project)
        .filter((one) => path === undefined || one.path === path || one.path.startsWith(`${path}.`))
        .filter((one) => !after || byPlace(one, after) > 0)
        .filter((one) => !before || byPlace(one, before) < 0)
        .sort((a, b) => (after ? byPlace(a, b) : byPlace(b, a)))
        .slice(0, limit)
        .map(({ project: _, ...change }) => change),
    entries: async (project) => entries(project).map(({ seq, kind, body }) => ({ seq, kind, body })),
  };
}

const byPlace = (a: ChangePlace, b: ChangePlace): number => a.seq - b.seq || a.n - b.n;

/** As it comes back from a store that keeps JSON. */
function plain<T extends { readonly before: unknown; readonly after: unknown }>(change: T): T {
  const through = (value: unknown): unknown => (value === undefined ? undefined : JSON.parse(JSON.stringify(value)));
  return { ...change, before: through(change.before), after: through(change.after) };
}
