import { closeSync, fsyncSync, openSync, renameSync, rmSync, statSync, writeSync } from 'node:fs';
import { dirname } from 'node:path';
import { crc32 } from 'node:zlib';
import type { PointGrid } from '../../shared/geometry/cloud.ts';
import { gridOfSorted } from '../../shared/geometry/cloud.ts';
import type { Source } from './readers/source.ts';
import { headOf, withSource } from './readers/source.ts';

/*
 * Sorted scan on disk, little-endian: 64 bytes of header, then xyz Float32 in grid order.
 *   0 magic "SJGR" · 4 version u32 · 8 cover, metres f64 (see PointGrid) · 16 count u64 as f64 · 24 origin x, y, z, metres f64 · 48 CRC-32
 *   of the points u32 · 52 zero · 60 CRC-32 of bytes 0..59 u32
 * The boxes are not kept: making them again takes less time than reading them.
 */
const MAGIC = 'SJGR';
export const GRID_VERSION = 2;
const HEADER = 64;
/** Bytes written or summed at a time: keeps one call below the limits of the system and the sum off the event loop's back. */
const SLICE = 1 << 26;

/** A grid file that cannot be used: made by another version, cut short or damaged. The scan has to be read again. */
export class GridFileError extends Error {
  constructor(message: string) {
    super(message);
    this.name = 'GridFileError';
  }
}

/** Writes a grid so that the file is either whole and on the disk, or not there: aside first, synced, then renamed. */
export function writeGridFile(path: string, grid: PointGrid): void {
  const points = Buffer.from(grid.positions.buffer, grid.positions.byteOffset, grid.positions.byteLength);
  const aside = `${path}.part`;
  const handle = openSync(aside, 'w');
  try {
    writeAll(handle, headerOf(grid, points));
    for (let at = 0; at < points.length; at += SLICE) writeAll(handle, points.subarray(at, at + SLICE));
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

function headerOf(grid: PointGrid, points: Buffer): Buffer {
  const header = Buffer.alloc(HEADER);
  header.write(MAGIC, 0, 'latin1');
  header.writeUInt32LE(GRID_VERSION, 4);
  header.writeDoubleLE(grid.cover, 8);
  header.writeDoubleLE(grid.count, 16);
  for (const [axis, x] of grid.origin.entries()) header.writeDoubleLE(x, 24 + 8 * axis);
  header.writeUInt32LE(sumOf(points), 48);
  header.writeUInt32LE(crc32(header.subarray(0, 60)), 60);
  return header;
}

function sumOf(bytes: Buffer): number {
  let sum = 0;
  for (let at = 0; at < bytes.length; at += SLICE) sum = crc32(bytes.subarray(at, at + SLICE), sum);
  return sum;
}

function writeAll(handle: number, bytes: Buffer): void {
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

/**
 * Reads a grid file back, checking magic, version, length, cover and both sums.
 * @throws GridFileError when the file is not whole; ReadFailure when it cannot be opened
 */
export function readGridFile(path: string): PointGrid {
  return withSource(path, (source) => {
    const header = headOf(source, HEADER);
    const count = checkedCount(header, source);
    const positions = new Float32Array(3 * count);
    const bytes = Buffer.from(positions.buffer);
    for (let at = 0; at < bytes.length; at += SLICE) source.read(bytes.subarray(at, at + SLICE), HEADER + at);
    if (sumOf(bytes) !== header.readUInt32LE(48))
      throw new GridFileError('The points of the grid file are damaged: its sum differs.');
    const origin = [header.readDoubleLE(24), header.readDoubleLE(32), header.readDoubleLE(40)] as const;
    return gridOfSorted(positions, origin, header.readDoubleLE(8));
  });
}

/** Changes with every writing of a grid file; empty when there is no file, which reading then reports. */
export function gridFileStamp(path: string): string {
  const stat = statSync(path, { throwIfNoEntry: false });
  // Writing goes through a rename, so a new file has a new inode even within one tick of the clock.
  return stat ? `${stat.ino} ${stat.mtimeMs} ${stat.size}` : '';
}

function checkedCount(header: Buffer, source: Source): number {
  if (header.length < HEADER || header.toString('latin1', 0, 4) !== MAGIC)
    throw new GridFileError('Expected a grid file, got another.');
  const version = header.readUInt32LE(4);
  if (version !== GRID_VERSION) throw new GridFileError(`Expected grid file version ${GRID_VERSION}, got ${version}.`);
  if (crc32(header.subarray(0, 60)) !== header.readUInt32LE(60))
    throw new GridFileError('The header of the grid file is damaged.');
  if (!(header.readDoubleLE(8) >= 0)) throw new GridFileError('Expected a grid file with a cover of 0 m or more.');
  const count = header.readDoubleLE(16);
  if (source.size !== HEADER + 12 * count) {
    throw new GridFileError(
      `Expected a grid file of ${HEADER + 12 * count} bytes for ${count} points, got ${source.size}.`,
    );
  }
  return count;
}
