import type { Worker } from 'node:worker_threads';
import type { Changes, KeptChange, NumberedEntry } from '../changes.ts';
import { type Journal, type JournalContent, JournalFault } from '../ports.ts';
import type { Entry, SnapshotOutcome } from './journal-log.ts';
import type { JournalAnswer, JournalRequest } from './journal-worker.ts';
import { openThread } from './thread.ts';

export interface JournalOptions {
  /** The database file; nothing else may use it. Its folder must exist. */
  readonly file: string;
  /** How long a write waits for another process's lock before it counts as failed, ms. */
  readonly busyTimeout?: number;
  /** What time entries are stamped with, ms since 1970; the system's when left out. */
  readonly clock?: () => number;
  /** How its thread is started; a test may keep hold of it. */
  readonly thread?: typeof openThread;
}

/** Most updates in one transaction: bounds how long the first of them waits. */
const BATCH = 2_000;

interface Waiting {
  readonly entry: Entry;
  readonly resolve: (seq: number) => void;
  readonly reject: (fault: JournalFault) => void;
}

/** Requests whose failure says nothing about whether edits can be kept. */
const harmless: ReadonlySet<JournalRequest['kind']> = new Set(['load', 'head', 'entries', 'told', 'keep', 'changes']);

interface Damaged {
  readonly damaged: number;
}

function undamaged<T extends object>(content: T | Damaged, of: { readonly project: string; readonly doc: string }): T {
  if (!('damaged' in content)) return content;
  throw new JournalFault(
    'damaged',
    `entry ${content.damaged} of ${of.doc} in ${of.project} does not match its checksum`,
  );
}

type Call = (request: JournalRequest) => Promise<unknown>;

interface Line {
  readonly call: Call;
  readonly dead: () => boolean;
  readonly stop: () => Promise<void>;
}

/** Opens the journal on a thread of its own; resolves when the log is open and a write has worked. */
export async function openJournal({
  file,
  busyTimeout = 5_000,
  clock = Date.now,
  thread = openThread,
}: JournalOptions): Promise<Journal> {
  const journal = new EmbeddedJournal(
    () => startLine(thread('server/storage/embedded/journal-worker', import.meta.url, { file, busyTimeout })),
    clock,
  );
  try {
    await journal.recover();
    return journal;
  } catch (error) {
    await journal.close();
    throw new JournalFault('write-failed', `the journal can't be opened: ${reason(error)}`);
  }
}

class EmbeddedJournal implements Journal {
  readonly #start: () => Line;
  #line: Line;
  #waiting: Waiting[] = [];
  #committing: Promise<void> | undefined;
  #trouble: string | undefined;
  #closed = false;
  readonly #clock: () => number;

  constructor(start: () => Line, clock: () => number) {
    this.#start = start;
    this.#clock = clock;
    this.#line = start();
  }

  get readOnly(): boolean {
    return this.#trouble !== undefined;
  }

  append(project: string, doc: string, update: Uint8Array, account: string): Promise<number> {
    const refusal = this.#refusal();
    if (refusal) return Promise.reject(refusal);
    // The caller may reuse its buffer before the next transaction starts.
    const entry = { project, doc, account, at: this.#clock(), body: Uint8Array.from(update) };
    return new Promise((resolve, reject) => {
      this.#waiting.push({ entry, resolve, reject });
      this.#committing ??= this.#commitAll();
    });
  }

  async load(project: string, doc: string): Promise<JournalContent> {
    const value = await this.#ask({ kind: 'load', project, doc });
    const content = undamaged(value as { bodies: Uint8Array[]; seq: number } | Damaged, { project, doc });
    return { updates: content.bodies, seq: content.seq };
  }

  readonly changes: Changes = {
    told: async (project) => (await this.#ask({ kind: 'told', project })) as number,
    keep: async (told) => {
      const refusal = this.#refusal();
      if (refusal) throw refusal;
      return (await this.#ask({ kind: 'keep', told })) as 'kept' | 'moved';
    },
    of: async (query) => (await this.#ask({ kind: 'changes', query })) as readonly KeptChange[],
    entries: async (project) => {
      const value = await this.#ask({ kind: 'entries', project, doc: 'spec' });
      return undamaged(value as readonly NumberedEntry[] | Damaged, { project, doc: 'spec' });
    },
  };

  async replaceWithSnapshot(project: string, doc: string, snapshot: Uint8Array, upToSeq: number): Promise<void> {
    const refusal = this.#refusal();
    if (refusal) throw refusal;
    const body = Uint8Array.from(snapshot);
    const outcome = (await this.#ask({
      kind: 'replace',
      snapshot: { project, doc, body, upToSeq },
    })) as SnapshotOutcome;
    if (outcome === 'unknown-sequence') {
      throw new JournalFault('unknown-sequence', `${doc} in ${project} has no entry ${upToSeq} to put a snapshot at`);
    }
  }

  async head(project: string): Promise<number> {
    return (await this.#ask({ kind: 'head', project })) as number;
  }

  async recover(): Promise<void> {
    if (this.#line.dead() && !this.#closed) this.#line = this.#start();
    await this.#ask({ kind: 'recover' });
    this.#trouble = undefined;
  }

  async close(): Promise<void> {
    if (this.#closed) return;
    this.#closed = true;
    await this.#committing;
    await this.#line.call({ kind: 'close' }).catch(() => undefined);
    await this.#line.stop();
  }

  #refusal(): JournalFault | undefined {
    if (this.#closed) return new JournalFault('closed', 'the journal is closed');
    if (this.#trouble === undefined) return undefined;
    return new JournalFault('read-only', `the journal takes no writes since one failed: ${this.#trouble}`);
  }

  /** Everything that arrives while one transaction is being synced goes into the next. */
  async #commitAll(): Promise<void> {
    // One turn later, so that appends made in the same turn share the first transaction.
    await Promise.resolve();
    while (this.#waiting.length > 0) {
      const batch = this.#waiting.splice(0, BATCH);
      try {
        const entries = batch.map(({ entry }) => entry);
        const seqs = (await this.#line.call({ kind: 'append', entries })) as readonly number[];
        for (const [index, one] of batch.entries()) settle(one, seqs[index]);
      } catch (error) {
        this.#fail(reason(error), batch);
      }
    }
    this.#committing = undefined;
  }

  #fail(detail: string, batch: readonly Waiting[]): void {
    this.#trouble = detail;
    const queued = this.#waiting.splice(0);
    for (const { reject } of [...batch, ...queued]) {
      reject(new JournalFault('write-failed', `the journal could not write: ${detail}`));
    }
  }

  async #ask(request: JournalRequest): Promise<unknown> {
    if (this.#closed) throw new JournalFault('closed', 'the journal is closed');
    try {
      return await this.#line.call(request);
    } catch (error) {
      const detail = reason(error);
      if (!harmless.has(request.kind)) this.#trouble = detail;
      throw new JournalFault('write-failed', `the journal could not ${request.kind}: ${detail}`);
    }
  }
}

function settle(one: Waiting, seq: number | undefined): void {
  if (seq === undefined) one.reject(new JournalFault('write-failed', 'the journal gave no sequence number'));
  else one.resolve(seq);
}

/** One request is one message and one answer; a thread that dies rejects whatever it still owed. */
function startLine(worker: Worker): Line {
  const owed = new Map<number, { resolve: (value: unknown) => void; reject: (error: Error) => void }>();
  let last = 0;
  let end: Error | undefined;
  const die = (error: Error) => {
    end ??= error;
    for (const { reject } of owed.values()) reject(error);
    owed.clear();
  };
  worker.on('message', (answer: JournalAnswer) => {
    const caller = owed.get(answer.id);
    owed.delete(answer.id);
    if ('fault' in answer) caller?.reject(new Error(answer.fault));
    else caller?.resolve(answer.value);
  });
  worker.on('error', (error) => die(error instanceof Error ? error : new Error(String(error))));
  worker.on('exit', () => die(new Error('the journal’s thread has ended')));
  return {
    call: (request) =>
      new Promise((resolve, reject) => {
        if (end) return reject(end);
        const id = ++last;
        owed.set(id, { resolve, reject });
        worker.postMessage({ id, request });
      }),
    dead: () => end !== undefined,
    stop: async () => void (await worker.terminate()),
  };
}

function reason(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
