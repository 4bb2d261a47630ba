import { createHash, randomUUID } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';

// The same folder and the same bookkeeping table as `prisma migrate deploy` uses, so either may have run last; the
// server needs no command line at run time. Unlike it, a migration and its bookkeeping are one transaction here: a
// process killed half-way leaves the database as it was.

const bookkeeping = `CREATE TABLE IF NOT EXISTS "_prisma_migrations" (
  "id" TEXT PRIMARY KEY NOT NULL, "checksum" TEXT NOT NULL, "finished_at" DATETIME, "migration_name" TEXT NOT NULL,
  "logs" TEXT, "rolled_back_at" DATETIME, "started_at" DATETIME NOT NULL DEFAULT current_timestamp,
  "applied_steps_count" INTEGER UNSIGNED NOT NULL DEFAULT 0)`;

interface Applied {
  readonly migration_name: string;
  readonly checksum: string;
  readonly finished_at: unknown;
}

/** Applies what is missing, in name order; returns the names applied. Throws on an edited or half-done migration. */
export function migrate(databaseFile: string, folder: string): readonly string[] {
  const db = new Database(databaseFile);
  try {
    db.pragma('journal_mode = WAL');
    db.pragma('synchronous = FULL');
    const run = db.transaction(() => applyMissing(db, folder));
    // Immediate: a second server on the same folder waits here and then finds nothing left to do.
    return run.immediate();
  } finally {
    db.close();
  }
}

function applyMissing(db: Database.Database, folder: string): readonly string[] {
  db.exec(bookkeeping);
  const rows = db
    .prepare<[], Applied>(
      'SELECT migration_name, checksum, finished_at FROM _prisma_migrations WHERE rolled_back_at IS NULL',
    )
    .all();
  const done = new Map(rows.map((row) => [row.migration_name, row]));
  const names = readdirSync(folder).filter((name) => existsSync(join(folder, name, 'migration.sql')));
  const newer = [...done.keys()].filter((name) => !names.includes(name));
  if (newer.length > 0) throw new Error(`the database was written by a newer version (it has ${newer.join(', ')})`);
  return names.sort().filter((name) => applyOne(db, { name, folder, before: done.get(name) }));
}

function applyOne(db: Database.Database, step: { name: string; folder: string; before: Applied | undefined }): boolean {
  const { name, folder, before } = step;
  const sql = readFileSync(join(folder, name, 'migration.sql'), 'utf8');
  const checksum = createHash('sha256').update(sql).digest('hex');
  if (before) {
    if (before.finished_at === null) throw new Error(`migration ${name} failed earlier and was left half done`);
    if (before.checksum !== checksum) throw new Error(`migration ${name} was edited after it was applied`);
    return false;
  }
  db.exec(sql);
  db.prepare(
    `INSERT INTO _prisma_migrations (id, checksum, migration_name, started_at, finished_at, applied_steps_count)
     VALUES (?, ?, ?, unixepoch() * 1000, unixepoch() * 1000, 1)`,
  ).run(randomUUID(), checksum, name);
  return true;
}
