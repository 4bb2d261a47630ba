import { randomBytes } from 'node:crypto';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { openBlobs } from '../../server/storage/embedded/blobs.ts';
import { openJournal } from '../../server/storage/embedded/journal.ts';
import { openRecords } from '../../server/storage/embedded/records.ts';
import { testFolder } from '../support/folder.ts';
import { memoryJournal } from '../support/memory-journal.ts';
import { memoryRecords } from '../support/memory-records.ts';
import { blobsContract } from './blobs.ts';
import { changesContract } from './changes.ts';
import { journalContract } from './journal.ts';
import { noticesContract } from './notices.ts';
import { type RecordsUnderTest, recordsContract } from './records.ts';
import { signingContract } from './signing.ts';

async function embeddedRecords(): Promise<RecordsUnderTest> {
  const folder = testFolder();
  const records = await openRecords(join(folder.path, 'records.db'));
  const dispose = async () => {
    await records.close();
    folder.dispose();
  };
  return { records, dispose };
}

const inMemory = async () => ({ records: memoryRecords(), dispose: async () => undefined });
recordsContract('embedded', embeddedRecords);
recordsContract('memory', inMemory);
noticesContract('embedded', embeddedRecords);
noticesContract('memory', inMemory);
signingContract('embedded', embeddedRecords);
signingContract('memory', inMemory);

async function embeddedJournal() {
  const folder = testFolder();
  const file = join(folder.path, 'journal.db');
  const journal = await openJournal({ file, busyTimeout: 20 });
  // Another process holding the write lock is a write failure the real engine reports by itself.
  let blocker: Database.Database | undefined;
  const mendWrites = () => {
    blocker?.close();
    blocker = undefined;
  };
  const breakWrites = () => {
    blocker = new Database(file);
    blocker.exec('BEGIN IMMEDIATE');
  };
  const dispose = async () => {
    mendWrites();
    await journal.close();
    folder.dispose();
  };
  return { journal, breakWrites, mendWrites, dispose };
}

async function memoryOne() {
  const journal = memoryJournal();
  const set = (broken: boolean) => () => {
    journal.broken = broken;
  };
  return { journal, breakWrites: set(true), mendWrites: set(false), dispose: () => journal.close() };
}

journalContract('embedded', embeddedJournal);
journalContract('memory', memoryOne);
changesContract('embedded', embeddedJournal);
changesContract('memory', memoryOne);

blobsContract('embedded', async () => {
  const folder = testFolder();
  const own = join(folder.path, 'own');
  mkdirSync(own);
  const blobs = await openBlobs(join(folder.path, 'blobs'), randomBytes);
  return { blobs, folder: own, dispose: async () => folder.dispose() };
});
