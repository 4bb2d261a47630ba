import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { mkdir, open, rename, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Readable } from 'node:stream';
import { newId, type Random } from '../../ambient.ts';
import { hashFile, syncAndHash, syncFolder } from '../durable-file.ts';
import type { Blobs } from '../ports.ts';

/** Blobs as files named by their SHA-256, in 256 folders by its first byte. */
export async function openBlobs(folder: string, random: Random): Promise<Blobs> {
  const incoming = join(folder, 'incoming');
  // What was being written when the process ended is of no use to anybody: its writer was never told "done".
  await rm(incoming, { recursive: true, force: true });
  await mkdir(incoming, { recursive: true });
  const place = (sha256: string) => join(folder, named(sha256).slice(0, 2), sha256);
  const kept = async (sha256: string) => ((await exists(place(sha256))) ? place(sha256) : undefined);
  return {
    adopt: async (file) => {
      const blob = await syncAndHash(file);
      await moveInto(file, place(blob.sha256));
      return blob;
    },
    write: async (content) => {
      const temporary = join(incoming, newId(random));
      await writeSynced(temporary, content);
      const sha256 = createHash('sha256').update(content).digest('hex');
      await moveInto(temporary, place(sha256));
      return { sha256, bytes: content.byteLength };
    },
    localFile: kept,
    read: async (sha256): Promise<Readable | undefined> => {
      const file = await kept(sha256);
      return file === undefined ? undefined : createReadStream(file);
    },
    verify: async (sha256) => {
      const file = await kept(sha256);
      return file !== undefined && (await hashFile(file)).sha256 === sha256;
    },
    remove: (sha256) => rm(place(sha256), { force: true }),
  };
}

async function writeSynced(file: string, content: Uint8Array): Promise<void> {
  const handle = await open(file, 'wx');
  try {
    await handle.writeFile(content);
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** The rename counts only once its folder is synced too; so does a folder just made, in its own parent. */
async function moveInto(from: string, to: string): Promise<void> {
  const folder = dirname(to);
  const made = await mkdir(folder, { recursive: true });
  await rename(from, to);
  await syncFolder(folder);
  if (made !== undefined) await syncFolder(dirname(folder));
}

async function exists(file: string): Promise<boolean> {
  return stat(file).then(
    (found) => found.isFile(),
    () => false,
  );
}

/** A name from outside never becomes a path. */
function named(sha256: string): string {
  if (!/^[0-9a-f]{64}$/.test(sha256)) throw new Error('not a SHA-256 in lower-case hex');
  return sha256;
}
