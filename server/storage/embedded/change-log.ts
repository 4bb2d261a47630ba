import type Database from 'better-sqlite3';
import type { ChangeQuery, FieldChange, KeptChange, ToldChanges } from '../changes.ts';

// Part of the journal's file: one commit order for both, so a snapshot can never be safe that its entries' changes are not.

/** The document whose changes are told field by field. */
const DOCUMENT = 'spec';
/** Beyond any place within an entry. */
const LAST = Number.MAX_SAFE_INTEGER;

export const changeSchema = `
CREATE TABLE IF NOT EXISTS told (project TEXT PRIMARY KEY NOT NULL, seq INTEGER NOT NULL) WITHOUT ROWID;
CREATE TABLE IF NOT EXISTS change (
  project TEXT NOT NULL, seq INTEGER NOT NULL, n INTEGER NOT NULL, path TEXT NOT NULL, account TEXT NOT NULL, at INTEGER,
  was TEXT, became TEXT, PRIMARY KEY (project, seq, n)
) WITHOUT ROWID;
CREATE INDEX IF NOT EXISTS change_path ON change (project, path, seq, n);`;

/** Journals of the first version had no time; their entries keep none. */
export function addEntryTime(db: Database.Database): void {
  const columns = db.pragma('table_info(entry)') as readonly { readonly name: string }[];
  if (!columns.some(({ name }) => name === 'at')) db.exec('ALTER TABLE entry ADD COLUMN at INTEGER');
}

export interface ChangeLog {
  told(project: string): number;
  keep(told: ToldChanges): 'kept' | 'moved';
  changes(query: ChangeQuery): readonly KeptChange[];
}

interface Author {
  readonly account: string;
  readonly at: number | null;
}

interface Row extends Author {
  readonly seq: number;
  readonly n: number;
  readonly path: string;
  readonly was: string | null;
  readonly became: string | null;
}

export function changeLog(db: Database.Database): ChangeLog {
  const told = db.prepare<[string], number>('SELECT seq FROM told WHERE project = ?').pluck();
  const tell = db.prepare('INSERT INTO told VALUES (?, ?) ON CONFLICT (project) DO UPDATE SET seq = excluded.seq');
  const author = db.prepare<[string, string, number], Author>(
    'SELECT account, at FROM entry WHERE project = ? AND doc = ? AND seq = ?',
  );
  const insert = db.prepare(
    'INSERT INTO change (project, seq, n, path, account, at, was, became) VALUES (?, ?, ?, ?, ?, ?, ?, ?)',
  );
  const keepAll = db.transaction(({ project, from, upTo, changes }: ToldChanges): 'kept' | 'moved' => {
    if ((told.get(project) ?? 0) !== from) return 'moved';
    for (const [seq, list] of bySeq(changes)) {
      const by = author.get(project, DOCUMENT, seq);
      if (!by) throw new Error(`there is no entry ${seq} of ${project} whose changes could be kept`);
      for (const [n, { path, before, after }] of list.entries())
        insert.run(project, seq, n, path, by.account, by.at, written(before), written(after));
    }
    tell.run(project, upTo);
    return 'kept';
  });
  return {
    told: (project) => told.get(project) ?? 0,
    keep: (list) => withoutSync(db, () => keepAll.immediate(list)),
    changes: (query) => select(db, query).map(readRow),
  };
}

/**
 * Nobody waits for these rows and nothing may wait for them: the commit is not synced by itself but by the next one of the journal. What a
 * power cut takes is derived anew, and a compaction, which is such a next commit, makes all before it safe with itself.
 */
function withoutSync<T>(db: Database.Database, work: () => T): T {
  db.pragma('synchronous = NORMAL');
  try {
    return work();
  } finally {
    db.pragma('synchronous = FULL');
  }
}

function bySeq(changes: readonly FieldChange[]): Map<number, FieldChange[]> {
  const out = new Map<number, FieldChange[]>();
  for (const change of changes) {
    const list = out.get(change.seq) ?? [];
    list.push(change);
    out.set(change.seq, list);
  }
  return out;
}

function select(db: Database.Database, { project, path, after, before, limit }: ChangeQuery): readonly Row[] {
  const { seq, n } = after ?? before ?? { seq: LAST, n: LAST };
  const [beyond, order] = after ? ['>', 'ASC'] : ['<', 'DESC'];
  const columns = 'SELECT seq, n, path, account, at, was, became FROM change WHERE project = ?';
  const rest = `AND (seq, n) ${beyond} (?, ?) ORDER BY seq ${order}, n ${order} LIMIT ?`;
  if (path === undefined) return db.prepare<unknown[], Row>(`${columns} ${rest}`).all(project, seq, n, limit);
  // Below a path: what begins with it and a dot; the slash comes next after the dot.
  const below = '(path = ? OR (path > ? AND path < ?))';
  const statement = db.prepare<unknown[], Row>(`${columns} AND ${below} ${rest}`);
  return statement.all(project, path, `${path}.`, `${path}/`, seq, n, limit);
}

function written(value: unknown): string | null {
  return value === undefined ? null : (JSON.stringify(value) ?? null);
}

function readRow({ was, became, ...rest }: Row): KeptChange {
  return { ...rest, before: read(was), after: read(became) };
}

function read(text: string | null): unknown {
  return text === null ? undefined : JSON.parse(text);
}
