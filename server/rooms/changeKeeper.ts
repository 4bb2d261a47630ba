import * as Y from 'yjs';
import { canonical } from '../../shared/spec/digest.ts';
import { SPEC_ROOT } from '../../shared/spec/reader.ts';
import type { ChangeQuery, Changes, FieldChange, KeptChange, NumberedEntry } from '../storage/changes.ts';
import type { EntryChange } from '../sync/intake.ts';

/** How long changes gather before they are kept, ms: nobody waits for them, and the verdicts come first. */
const GATHER_MS = 1_000;
/** Most changes kept in one transaction: bounds how long an edit may wait behind it. */
const MOST_AT_ONCE = 2_000;
/** Journal entries read anew between two turns of the event loop. */
const ENTRIES_A_TURN = 100;

export interface ChangeKeeperOptions {
  readonly project: string;
  readonly changes: Changes;
  readonly warn: (event: string, detail: Readonly<Record<string, unknown>>) => void;
}

/**
 * Tells who changed what, field by field. It follows the live document after every acknowledgement, off its path; where it lost the
 * thread (a crash, a full disk) it reads the journal anew from the last entry it is sure of.
 */
export class ChangeKeeper {
  private readonly options: ChangeKeeperOptions;
  private told = 0;
  private pending: { readonly seq: number; readonly changes: Iterable<EntryChange> }[] = [];
  private behind = true;
  private timer: NodeJS.Timeout | null = null;
  private working: Promise<void> = Promise.resolve();

  constructor(options: ChangeKeeperOptions) {
    this.options = options;
  }

  /** Resolves when all is kept that the journal holds up to `seq`; without it, and saying so, when that cannot be now. */
  async reach(seq: number): Promise<void> {
    try {
      this.told = await this.options.changes.told(this.options.project);
      this.behind = this.told < seq;
    } catch (error) {
      this.lost(error);
    }
    await this.settled();
  }

  /** Whether nothing the journal held when it was opened is missing: only then may entries give way to a snapshot. */
  get complete(): boolean {
    return !this.behind;
  }

  /** An entry of the journal was acknowledged, and this is what it wrote. */
  wrote(seq: number, changes: Iterable<EntryChange>): void {
    this.pending.push({ seq, changes });
    if (this.timer) return;
    this.timer = setTimeout(() => void this.settled(), GATHER_MS);
    this.timer.unref();
  }

  /** Resolves when all that was written before the call is kept, or could not be. */
  settled(): Promise<void> {
    if (this.timer) clearTimeout(this.timer);
    this.timer = null;
    this.working = this.working.then(() => this.keepPending());
    return this.working;
  }

  async of(query: ChangeQuery): Promise<readonly KeptChange[]> {
    await this.settled();
    return this.options.changes.of(query);
  }

  private async keepPending(): Promise<void> {
    try {
      if (this.behind) await this.readAnew();
      const news = this.pending.splice(0).filter(({ seq }) => seq > this.told);
      if (news.length > 0) await this.keepAll(news.map(({ seq, changes }) => ({ seq, changes: told(seq, changes) })));
    } catch (error) {
      this.lost(error);
    }
  }

  private async keepAll(entries: readonly Told[]): Promise<void> {
    for (const part of inParts(entries)) {
      const upTo = part.at(-1)?.seq ?? this.told;
      const { project, changes } = this.options;
      const list = part.flatMap((entry) => entry.changes);
      const outcome = await changes.keep({ project, from: this.told, upTo, changes: list });
      if (outcome === 'moved') throw new Error('another keeper was at work');
      this.told = upTo;
    }
  }

  private async readAnew(): Promise<void> {
    const { project, changes } = this.options;
    const entries = await changes.entries(project);
    this.told = await changes.told(project);
    await this.keepAll(await replay(entries, this.told));
    this.behind = false;
  }

  private lost(error: unknown): void {
    this.behind = true;
    this.pending = [];
    this.options.warn('changes-not-kept', { project: this.options.project, error: String(error) });
  }
}

interface Told {
  readonly seq: number;
  readonly changes: readonly FieldChange[];
}

function told(seq: number, changes: Iterable<EntryChange>): FieldChange[] {
  const out: FieldChange[] = [];
  for (const { key, before, after } of changes)
    if (canonical(before) !== canonical(after)) out.push({ seq, path: key, before, after });
  return out.sort((a, b) => (a.path < b.path ? -1 : 1));
}

/** Whole entries together, as many as make few enough changes; never none. */
function inParts(entries: readonly Told[]): Told[][] {
  const parts: Told[][] = [];
  let count = MOST_AT_ONCE;
  for (const entry of entries) {
    if (count + entry.changes.length > MOST_AT_ONCE) {
      parts.push([]);
      count = 0;
    }
    parts.at(-1)?.push(entry);
    count += entry.changes.length;
  }
  return parts;
}

/** What each entry after `from` changed, found by applying all of them again. A snapshot is where its document begins: it changed nothing. */
async function replay(entries: readonly NumberedEntry[], from: number): Promise<Told[]> {
  const doc = new Y.Doc({ gc: true });
  const map = doc.getMap<unknown>(SPEC_ROOT);
  let changes: EntryChange[] = [];
  map.observe((event) => {
    for (const [key, change] of event.changes.keys) changes.push({ key, before: change.oldValue, after: map.get(key) });
  });
  const out: Told[] = [];
  for (const [i, { seq, kind, body }] of entries.entries()) {
    changes = [];
    Y.applyUpdate(doc, body);
    if (seq > from) out.push({ seq, changes: kind === 'update' ? told(seq, changes) : [] });
    if (i % ENTRIES_A_TURN === ENTRIES_A_TURN - 1) await new Promise((resolve) => setImmediate(resolve));
  }
  doc.destroy();
  return out;
}
