import { copyFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Worker } from 'node:worker_threads';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { testFolder } from '../../../tests/support/folder.ts';
import { type Journal, JournalFault } from '../ports.ts';
import { openJournal } from './journal.ts';
import { openLog } from './journal-log.ts';
import { openThread } from './thread.ts';

const body = Uint8Array.from([1, 2, 3]);
let folder: ReturnType<typeof testFolder>;
let file: string;
let opened: Journal[];
beforeEach(() => {
  folder = testFolder();
  file = join(folder.path, 'journal.db');
  opened = [];
});
afterEach(async () => {
  for (const journal of opened) await journal.close();
  folder.dispose();
});
async function open(): Promise<Journal> {
  const journal = await openJournal({ file });
  opened.push(journal);
  return journal;
}

it('has its write-ahead log at full length before the first entry, which does not lengthen it', async () => {
  const journal = await open();
  // Answered after what follows the opening: the thread does one thing after the other.
  await journal.head('p');
  const { size } = statSync(`${file}-wal`);
  expect(size).toBeGreaterThanOrEqual(1000 * 4096);
  for (let n = 1; n <= 5; n++) expect(await journal.append('p', 'spec', body, 'a')).toBe(n);
  expect(statSync(`${file}-wal`).size).toBe(size);
});

it('goes on where it stood after being closed and opened', async () => {
  const first = await open();
  await first.append('p', 'spec', body, 'a');
  await first.append('p', 'spec', body, 'a');
  await first.replaceWithSnapshot('p', 'spec', body, 2);
  await first.close();
  const again = await open();
  expect(await again.load('p', 'spec')).toEqual({ updates: [body], seq: 2 });
  expect(await again.append('p', 'spec', body, 'a')).toBe(3);
});

it('notices one flipped bit and names the entry', async () => {
  const journal = await open();
  await journal.append('p', 'spec', body, 'a');
  await journal.append('p', 'spec', body, 'a');
  const other = new Database(file);
  other.prepare('UPDATE entry SET body = ? WHERE seq = 2').run(Uint8Array.from([1, 2, 2]));
  other.close();
  const fault = await journal.load('p', 'spec').catch((error: unknown) => error);
  expect(fault).toBeInstanceOf(JournalFault);
  expect(fault).toMatchObject({ code: 'damaged', message: expect.stringContaining('entry 2 of spec in p') });
});

it('moves what was written ahead into the database between answers, and loses nothing by it', () => {
  const log = openLog(file, 100);
  const big = { project: 'p', doc: 'spec', account: 'a', at: 0, body: new Uint8Array(100_000).fill(7) };
  const moved = () => {
    const alone = testFolder();
    // The database without what was written ahead: what a reader of that file alone would find.
    copyFileSync(file, join(alone.path, 'copy.db'));
    const db = new Database(join(alone.path, 'copy.db'));
    const count = db.prepare('SELECT count(*) FROM entry').pluck().get();
    db.close();
    alone.dispose();
    return count;
  };
  log.append(Array.from({ length: 10 }, () => big));
  log.tidy();
  log.close();
  const again = openLog(file, 100);
  again.append(Array.from({ length: 20 }, () => big));
  again.tidy();
  expect(moved()).toBe(10);
  again.append(Array.from({ length: 20 }, () => big));
  expect(moved()).toBe(10);
  again.tidy();
  expect(moved()).toBe(50);
  expect(again.load('p', 'spec')).toMatchObject({ seq: 50 });
  again.close();
});

it('outlives its thread: what was owed is rejected, recovery starts another', async () => {
  const threads: Worker[] = [];
  const thread: typeof openThread = (...start) => {
    const worker = openThread(...start);
    threads.push(worker);
    return worker;
  };
  const journal = await openJournal({ file, thread });
  opened.push(journal);
  expect(await journal.append('p', 'spec', body, 'a')).toBe(1);
  await threads[0]?.terminate();
  await expect(journal.append('p', 'spec', body, 'a')).rejects.toMatchObject({ code: 'write-failed' });
  expect(journal.readOnly).toBe(true);
  await journal.recover();
  expect(threads).toHaveLength(2);
  expect(await journal.append('p', 'spec', body, 'a')).toBe(2);
});

it('says why it can not be opened', async () => {
  const nowhere = openJournal({ file: join(folder.path, 'absent', 'journal.db') });
  await expect(nowhere).rejects.toMatchObject({ code: 'write-failed', message: expect.stringContaining('directory') });
});

it('keeps none of a transaction whose last entry can not be written', () => {
  const log = openLog(file, 100);
  const entry = { project: 'p', doc: 'spec', account: 'a', at: 0, body };
  expect(log.append([entry])).toEqual([1]);
  const broken = { ...entry, account: null as unknown as string };
  expect(() => log.append([entry, broken])).toThrow('NOT NULL');
  expect(log.load('p', 'spec')).toEqual({ bodies: [body], seq: 1 });
  expect(log.append([entry])).toEqual([2]);
  log.close();
});

it('opens every time with a write-ahead log and full sync', () => {
  // SQLite's own default on reopening is NORMAL: openLog throws if the setting did not take.
  openLog(file, 100).close();
  const plain = new Database(file);
  expect(plain.pragma('synchronous', { simple: true })).toBe(1);
  plain.close();
  openLog(file, 100).close();
});
