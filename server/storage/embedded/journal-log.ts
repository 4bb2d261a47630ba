import { statSync } from 'node:fs';
import { crc32 } from 'node:zlib';
import Database from 'better-sqlite3';
import type { NumberedEntry } from '../changes.ts';
import { addEntryTime, type ChangeLog, changeLog, changeSchema } from './change-log.ts';

// The log itself, synchronous, on one thread. journal-worker.ts gives it that thread; nothing else may open the file.

export interface Entry {
  readonly project: string;
  readonly doc: string;
  readonly account: string;
  /** Milliseconds since 1970-01-01T00:00Z. */
  readonly at: number;
  readonly body: Uint8Array;
}

export interface Snapshot {
  readonly project: string;
  readonly doc: string;
  readonly body: Uint8Array;
  readonly upToSeq: number;
}

export type SnapshotOutcome = 'replaced' | 'unknown-sequence';

interface Row {
  readonly seq: number;
  readonly kind: NumberedEntry['kind'];
  readonly sum: number;
  readonly body: Buffer;
}

const PAGE_BYTES = 4096;
/** Pages one entry writes besides its body: its row's, its index's and the head's. */
const PAGES_AN_ENTRY = 3;
/** SQLite's own default for moving the write-ahead log into the database. */
const TIDY_AFTER_PAGES = 1000;

const schema = `
CREATE TABLE IF NOT EXISTS head (project TEXT PRIMARY KEY NOT NULL, seq INTEGER NOT NULL) WITHOUT ROWID;
CREATE TABLE IF NOT EXISTS entry (
  project TEXT NOT NULL, doc TEXT NOT NULL, seq INTEGER NOT NULL, kind TEXT NOT NULL CHECK (kind IN ('update', 'snapshot')),
  account TEXT NOT NULL, sum INTEGER NOT NULL, body BLOB NOT NULL, at INTEGER, UNIQUE (project, doc, seq)
);
CREATE TABLE IF NOT EXISTS probe (id INTEGER PRIMARY KEY, tries INTEGER NOT NULL);
${changeSchema}`;

export interface JournalLog extends ChangeLog {
  /** One transaction for all; the sequence numbers in the same order. Throws if not one of them was kept. */
  append(entries: readonly Entry[]): readonly number[];
  /** Entries in order. `damaged` names the first whose bytes do not match their checksum. */
  load(project: string, doc: string): { bodies: readonly Uint8Array[]; seq: number } | { damaged: number };
  /** The same with number and kind of each. */
  entries(project: string, doc: string): readonly NumberedEntry[] | { damaged: number };
  replace(snapshot: Snapshot): SnapshotOutcome;
  head(project: string): number;
  /** Moves what was written ahead into the database once it is enough; between answers, because it takes some milliseconds. */
  tidy(): void;
  /** A real commit that changes nothing anybody reads. Throws while writing does not work. */
  probe(): void;
  /**
   * Brings the write-ahead log to its full length at once: a commit that lengthens the file has the file system write its own records as
   * well. Takes some ten milliseconds; what is in the way of it is no harm.
   */
  makeRoom(): void;
  close(): void;
}

export function openLog(file: string, busyTimeout: number): JournalLog {
  const db = openDurable(file, busyTimeout);
  db.exec(schema);
  addEntryTime(db);
  const tick = db.prepare('INSERT INTO probe VALUES (1, 1) ON CONFLICT (id) DO UPDATE SET tries = tries + 1');
  const { append, replace } = writes(db);
  const changes = changeLog(db);
  let pages = 0;
  return {
    ...reads(db),
    ...changes,
    keep: (told) => {
      pages += PAGES_AN_ENTRY * told.changes.length;
      return changes.keep(told);
    },
    append: (entries) => {
      for (const { body } of entries) pages += PAGES_AN_ENTRY + Math.ceil(body.length / PAGE_BYTES);
      return append(entries);
    },
    replace,
    tidy: () => {
      if (pages < TIDY_AFTER_PAGES) return;
      pages = 0;
      db.pragma('wal_checkpoint(PASSIVE)');
    },
    probe: () => void tick.run(),
    makeRoom: () => {
      const room = TIDY_AFTER_PAGES * PAGE_BYTES;
      if (statSync(`${file}-wal`).size >= room) return;
      db.exec('CREATE TABLE IF NOT EXISTS room (body BLOB)');
      db.prepare('INSERT INTO room VALUES (zeroblob(?))').run(room);
      db.exec('DELETE FROM room');
      db.pragma('wal_checkpoint(RESTART)');
    },
    close: () => void db.close(),
  };
}

function openDurable(file: string, busyTimeout: number): Database.Database {
  const db = new Database(file, { timeout: busyTimeout });
  try {
    db.pragma('journal_mode = WAL');
    // SQLite would do it within a commit, which then takes many times as long; `tidy` does it after the answer.
    db.pragma('wal_autocheckpoint = 0');
    // On every open: SQLite reopens a write-ahead log with NORMAL, where power loss may take back a commit.
    db.pragma('synchronous = FULL');
    const mode = db.pragma('journal_mode', { simple: true });
    const synchronous = db.pragma('synchronous', { simple: true });
    if (mode !== 'wal' || synchronous !== 2) throw new Error(`journal opened with ${mode}, synchronous ${synchronous}`);
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}

function writes(db: Database.Database): Pick<JournalLog, 'append' | 'replace'> {
  // The head has its own row because compaction removes entries and numbers must never come again.
  const next = db
    .prepare<[string], number>(
      'INSERT INTO head VALUES (?, 1) ON CONFLICT (project) DO UPDATE SET seq = seq + 1 RETURNING seq',
    )
    .pluck();
  const insert = db.prepare(
    'INSERT INTO entry (project, doc, seq, kind, account, sum, body, at) VALUES (?, ?, ?, ?, ?, ?, ?, ?)',
  );
  const author = db.prepare<[string, string, number], { account: string; at: number | null }>(
    'SELECT account, at FROM entry WHERE project = ? AND doc = ? AND seq = ?',
  );
  const remove = db.prepare('DELETE FROM entry WHERE project = ? AND doc = ? AND seq <= ?');
  const append = db.transaction((entries: readonly Entry[]) =>
    entries.map(({ project, doc, account, body, at }) => {
      const seq = next.get(project);
      if (seq === undefined) throw new Error('the journal gave no sequence number');
      insert.run(project, doc, seq, 'update', account, crc32(body), body, at);
      return seq;
    }),
  );
  const replace = db.transaction(({ project, doc, body, upToSeq }: Snapshot): SnapshotOutcome => {
    const by = author.get(project, doc, upToSeq);
    if (by === undefined) return 'unknown-sequence';
    remove.run(project, doc, upToSeq);
    insert.run(project, doc, upToSeq, 'snapshot', by.account, crc32(body), body, by.at);
    return 'replaced';
  });
  return { append: (entries) => append.immediate(entries), replace: (snapshot) => replace.immediate(snapshot) };
}

function reads(db: Database.Database): Pick<JournalLog, 'load' | 'entries' | 'head'> {
  const all = db.prepare<[string, string], Row>(
    'SELECT seq, kind, sum, body FROM entry WHERE project = ? AND doc = ? ORDER BY seq',
  );
  const head = db.prepare<[string], number>('SELECT seq FROM head WHERE project = ?').pluck();
  const sound = (project: string, doc: string): readonly NumberedEntry[] | { damaged: number } => {
    const rows = all.all(project, doc);
    const damaged = rows.find((row) => crc32(row.body) !== row.sum);
    if (damaged) return { damaged: damaged.seq };
    // Copied out: SQLite's buffers may share one memory block, which can't be handed to another thread.
    return rows.map(({ seq, kind, body }) => ({ seq, kind, body: Uint8Array.from(body) }));
  };
  return {
    load: (project, doc) => {
      const rows = sound(project, doc);
      return 'damaged' in rows ? rows : { bodies: rows.map(({ body }) => body), seq: rows.at(-1)?.seq ?? 0 };
    },
    entries: sound,
    head: (project) => head.get(project) ?? 0,
  };
}
