import { parentPort, workerData } from 'node:worker_threads';
import type { ChangeQuery, ToldChanges } from '../changes.ts';
import { type Entry, type JournalLog, openLog, type Snapshot } from './journal-log.ts';

// Body of the journal's thread: fsync may take many milliseconds, and no socket may wait for it.

export type JournalRequest =
  | { readonly kind: 'append'; readonly entries: readonly Entry[] }
  | { readonly kind: 'load'; readonly project: string; readonly doc: string }
  | { readonly kind: 'replace'; readonly snapshot: Snapshot }
  | { readonly kind: 'head'; readonly project: string }
  | { readonly kind: 'entries'; readonly project: string; readonly doc: string }
  | { readonly kind: 'told'; readonly project: string }
  | { readonly kind: 'keep'; readonly told: ToldChanges }
  | { readonly kind: 'changes'; readonly query: ChangeQuery }
  | { readonly kind: 'recover' }
  | { readonly kind: 'close' };

interface JournalStart {
  readonly file: string;
  /** How long a write waits for another process's lock, ms. */
  readonly busyTimeout: number;
}

export type JournalAnswer = { readonly id: number } & ({ readonly value: unknown } | { readonly fault: string });

const { file, busyTimeout }: JournalStart = workerData;
let log: JournalLog | undefined;

function open(): JournalLog {
  log ??= openLog(file, busyTimeout);
  return log;
}

function recover(): void {
  // A failed write may leave the connection in any state: only a new one is trusted.
  log?.close();
  log = undefined;
  open().probe();
}

function answer(request: JournalRequest): unknown {
  switch (request.kind) {
    case 'append':
      return open().append(request.entries);
    case 'load':
      return open().load(request.project, request.doc);
    case 'replace':
      return open().replace(request.snapshot);
    case 'head':
      return open().head(request.project);
    case 'entries':
      return open().entries(request.project, request.doc);
    case 'told':
      return open().told(request.project);
    case 'keep':
      return open().keep(request.told);
    case 'changes':
      return open().changes(request.query);
    case 'recover':
      return recover();
    case 'close':
      return log?.close();
  }
}

/** What was asked for is answered already; a failure here shows again at the next write, which says so. */
function tidyAfter({ kind }: JournalRequest): void {
  try {
    if (kind === 'append') log?.tidy();
    if (kind === 'recover') log?.makeRoom();
  } catch {
    log?.close();
    log = undefined;
  }
}

parentPort?.on('message', ({ id, request }: { id: number; request: JournalRequest }) => {
  try {
    parentPort?.postMessage({ id, value: answer(request) } satisfies JournalAnswer);
    tidyAfter(request);
  } catch (error) {
    const fault = error instanceof Error ? error.message : String(error);
    parentPort?.postMessage({ id, fault } satisfies JournalAnswer);
  }
  if (request.kind === 'close') parentPort?.close();
});
