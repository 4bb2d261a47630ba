import type { Records } from '../ports.ts';
import { openDatabase } from './database.ts';
import { leavingRecords } from './leaving-records.ts';
import { noticeRecords } from './notice-records.ts';
import { passkeyRecords } from './passkey-records.ts';
import { peopleRecords } from './people-records.ts';
import { photoRecords } from './photo-records.ts';
import { projectRecords } from './project-records.ts';
import { revisionRecords } from './revision-records.ts';
import { tokenRecords } from './token-records.ts';
import { workRecords } from './work-records.ts';

const probeKey = 'probe';

/** The records in one SQLite file, made or migrated as needed. Its folder must exist. */
export async function openRecords(file: string): Promise<Records> {
  const db = await openDatabase(file);
  const work = workRecords(db);
  return {
    ...peopleRecords(db),
    ...projectRecords(db),
    ...work,
    ...revisionRecords(db),
    ...tokenRecords(db),
    ...noticeRecords(db),
    ...leavingRecords(db),
    ...passkeyRecords(db),
    ...photoRecords(db),
    // A real write: a full disk or a read-only file shows only there.
    probe: () => work.putSetting(probeKey, ''),
    close: () => db.close(),
  };
}
