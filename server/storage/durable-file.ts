import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { open } from 'node:fs/promises';
import type { Blob } from './ports.ts';

/** Makes the file's bytes safe against power loss, then says what they are. */
export async function syncAndHash(file: string): Promise<Blob> {
  await syncPath(file, 'r+');
  return hashFile(file);
}

export async function hashFile(file: string): Promise<Blob> {
  const hash = createHash('sha256');
  let bytes = 0;
  for await (const chunk of createReadStream(file, { highWaterMark: 1 << 20 })) {
    hash.update(chunk);
    bytes += chunk.length;
  }
  return { sha256: hash.digest('hex'), bytes };
}

/** A rename or a new name counts after power loss only once its folder is synced. */
export async function syncFolder(folder: string): Promise<void> {
  // Windows opens no folder as a file and keeps its directory entries journalled by itself.
  if (process.platform !== 'win32') await syncPath(folder, 'r');
}

async function syncPath(path: string, flags: 'r' | 'r+'): Promise<void> {
  const handle = await open(path, flags);
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
