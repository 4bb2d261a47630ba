import { closeSync, fsyncSync, openSync, renameSync, rmSync, statSync, writeSync } from 'node:fs';
import { dirname } from 'node:path';
import { crc32 } from 'node:zlib';

/** Bytes written or summed at a time: keeps one call below the limits of the system and the sum off the event loop's back. */
export const SLICE = 1 << 26;

/** A grid or mesh file that cannot be used: made by another version, cut short or damaged. What it was made from has to be read again. */
export class FlatFileError extends Error {
  readonly code: 'bad-grid-file' | 'bad-mesh-file';

  constructor(code: FlatFileError['code'], message: string) {
    super(message);
    this.name = 'FlatFileError';
    this.code = code;
  }
}

/** Writes parts one after the other so that the file is either whole and on the disk, or not there: aside first, synced, then renamed. */
export function writeWhole(path: string, parts: readonly Uint8Array[]): void {
  const aside = `${path}.part`;
  const handle = openSync(aside, 'w');
  try {
    for (const part of parts)
      for (let at = 0; at < part.length; at += SLICE) writeAll(handle, part.subarray(at, at + SLICE));
    fsyncSync(handle);
  } catch (error) {
    rmSync(aside, { force: true });
    throw error;
  } finally {
    closeSync(handle);
  }
  renameSync(aside, path);
  syncFolder(dirname(path));
}

function writeAll(handle: number, bytes: Uint8Array): void {
  for (let at = 0; at < bytes.length; ) at += writeSync(handle, bytes, at);
}

/** The new name is only safe once the folder that holds it is. */
function syncFolder(path: string): void {
  const handle = openSync(path, 'r');
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

/** CRC-32 over parts, as if they stood one after the other. */
export function sumOf(...parts: readonly Uint8Array[]): number {
  let sum = 0;
  for (const part of parts)
    for (let at = 0; at < part.length; at += SLICE) sum = crc32(part.subarray(at, at + SLICE), sum);
  return sum;
}

/** The bytes of a typed array, in the same memory. */
export const bytesOf = (list: ArrayBufferView<ArrayBufferLike>): Uint8Array =>
  new Uint8Array(list.buffer, list.byteOffset, list.byteLength);

/** Changes with every writing of a file; empty when there is no file, which reading then reports. */
export function fileStamp(path: string): string {
  const stat = statSync(path, { throwIfNoEntry: false });
  // Writing goes through a rename, so a new file has a new inode even within one tick of the clock.
  return stat ? `${stat.ino} ${stat.mtimeMs} ${stat.size}` : '';
}
