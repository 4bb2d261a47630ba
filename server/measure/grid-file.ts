import { crc32 } from 'node:zlib';
import type { PointGrid } from '../../shared/geometry/cloud.ts';
import { gridOfSorted } from '../../shared/geometry/cloud.ts';
import { bytesOf, FlatFileError, SLICE, sumOf, writeWhole } from './flat-file.ts';
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

/** A grid file that cannot be used: the scan has to be read again. */
export class GridFileError extends FlatFileError {
  constructor(message: string) {
    super('bad-grid-file', message);
    this.name = 'GridFileError';
  }
}

/** Writes a grid so that the file is either whole and on the disk, or not there: aside first, synced, then renamed. */
export function writeGridFile(path: string, grid: PointGrid): void {
  const points = bytesOf(grid.positions);
  writeWhole(path, [headerOf(grid, points), points]);
}

function headerOf(grid: PointGrid, points: Uint8Array): Buffer {
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

/** Bytes a grid takes in memory. */
export const gridBytes = (grid: PointGrid): number => grid.positions.byteLength + grid.boxes.byteLength;

/**
 * Reads a grid file back, checking magic, version, length, cover and both sums.
 * @throws GridFileError when the file is not whole; ReadFailure when it cannot be opened
 */
export function readGridFile(path: string): PointGrid {
  return withSource(path, (source) => {
    const header = headOf(source, HEADER);
    const count = checkedCount(header, source);
    const positions = new Float32Array(3 * count);
    const bytes = bytesOf(positions);
    for (let at = 0; at < bytes.length; at += SLICE) source.read(bytes.subarray(at, at + SLICE), HEADER + at);
    if (sumOf(bytes) !== header.readUInt32LE(48))
      throw new GridFileError('The points of the grid file are damaged: its sum differs.');
    const origin = [header.readDoubleLE(24), header.readDoubleLE(32), header.readDoubleLE(40)] as const;
    return gridOfSorted(positions, origin, header.readDoubleLE(8));
  });
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
