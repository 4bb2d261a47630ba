import { type Journal, JournalFault } from '../../server/storage/ports.ts';

interface Kept {
  readonly project: string;
  readonly doc: string;
  readonly seq: number;
  readonly body: Uint8Array;
}

/** A journal that ends with the process, with a switch that makes its writes fail. */
export interface MemoryJournal extends Journal {
  /** While true, every write fails as a broken disk would make it. */
  broken: boolean;
}

export function memoryJournal(): MemoryJournal {
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
    append: async (project, doc, update) => {
      const fault = refuse();
      if (fault) throw fault;
      const seq = (heads.get(project) ?? 0) + 1;
      heads.set(project, seq);
      kept.push({ project, doc, seq, body: Uint8Array.from(update) });
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
      if (!kept.some((one) => of(one) && one.seq === upToSeq)) {
        throw new JournalFault('unknown-sequence', `${doc} in ${project} has no entry ${upToSeq}`);
      }
      const body = Uint8Array.from(snapshot);
      const rest = kept.filter((one) => !of(one) || one.seq > upToSeq);
      kept = [...rest, { project, doc, seq: upToSeq, body }].sort((a, b) => a.seq - b.seq);
    },
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
