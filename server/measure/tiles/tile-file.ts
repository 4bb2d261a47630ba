import { open } from 'node:fs/promises';
import { crc32 } from 'node:zlib';
import { TILE_NUMBERS, TILES_VERSION, type TileIndex } from '../../../shared/geometry/tiles.ts';
import { tileIndexSchema } from '../../../shared/protocol/tiles.ts';
import { writeWhole } from '../flat-file.ts';
import type { EncodedTiles } from './encode.ts';

/*
 * Tiles of a scan on disk: 20 bytes of header, the index as JSON, then the bytes of the tiles.
 *   0 magic "SJTL" · 4 version u32 · 8 bytes of the index u32 · 12 CRC-32 of the index u32 · 16 CRC-32 of bytes 0..15 u32
 * Each tile has its own sum, which the browser checks: what is damaged on the way is found as well.
 */
const MAGIC = 'SJTL';
const HEADER = 20;

/** A tile file that cannot be used: of another version, cut short or damaged. It is made again from the grid file. */
export class TileFileError extends Error {
  constructor(message: string) {
    super(message);
    this.name = 'TileFileError';
  }
}

/** Writes tiles so that the file is either whole and on the disk, or not there. */
export function writeTileFile(path: string, { index, tiles }: EncodedTiles): void {
  const json = Buffer.from(JSON.stringify(index));
  const header = Buffer.alloc(HEADER);
  header.write(MAGIC, 0, 'latin1');
  header.writeUInt32LE(TILES_VERSION, 4);
  header.writeUInt32LE(json.length, 8);
  header.writeUInt32LE(crc32(json), 12);
  header.writeUInt32LE(crc32(header.subarray(0, 16)), 16);
  writeWhole(path, [header, json, ...tiles]);
}

/** The index of a tile file, and where the tiles begin. */
export interface TileFile {
  readonly index: TileIndex;
  /** Bytes ahead of the first tile. */
  readonly start: number;
  /** Bytes of all tiles. */
  readonly length: number;
}

/** Reads the index of a tile file. @throws TileFileError when the file is not whole; the system's error when it cannot be opened */
export async function readTileIndex(path: string): Promise<TileFile> {
  const handle = await open(path, 'r');
  try {
    const { size } = await handle.stat();
    const header = await stretch(handle, 0, HEADER);
    const bytes = indexBytes(header, size);
    const json = await stretch(handle, HEADER, bytes);
    if (crc32(json) !== header.readUInt32LE(12)) throw new TileFileError('The index of the tile file is damaged.');
    const index = tileIndexSchema.parse(JSON.parse(json.toString('utf8')));
    const [start, length] = [HEADER + bytes, tileBytes(index)];
    if (size !== start + length)
      throw new TileFileError(`Expected a tile file of ${start + length} bytes, got ${size}.`);
    return { index, start, length };
  } finally {
    await handle.close();
  }
}

/** A stretch of the tiles' bytes; `end` not included. */
export async function readTiles(path: string, file: TileFile, from: number, end: number): Promise<Uint8Array> {
  const handle = await open(path, 'r');
  try {
    return await stretch(handle, file.start + from, end - from);
  } finally {
    await handle.close();
  }
}

function indexBytes(header: Buffer, size: number): number {
  if (header.length < HEADER || header.toString('latin1', 0, 4) !== MAGIC)
    throw new TileFileError('Expected a tile file, got another.');
  const version = header.readUInt32LE(4);
  if (version !== TILES_VERSION)
    throw new TileFileError(`Expected tile file version ${TILES_VERSION}, got ${version}.`);
  if (crc32(header.subarray(0, 16)) !== header.readUInt32LE(16) || HEADER + header.readUInt32LE(8) > size)
    throw new TileFileError('The header of the tile file is damaged.');
  return header.readUInt32LE(8);
}

function tileBytes({ levels }: TileIndex): number {
  let bytes = 0;
  for (const { tiles } of levels)
    for (const [i, n] of tiles.entries()) if (i % TILE_NUMBERS === TILE_NUMBERS - 1) bytes += n;
  return bytes;
}

async function stretch(
  handle: Awaited<ReturnType<typeof open>>,
  from: number,
  length: number,
): Promise<Buffer<ArrayBuffer>> {
  const bytes = Buffer.alloc(length);
  let got = 0;
  while (got < length) {
    const { bytesRead } = await handle.read(bytes, got, length - got, from + got);
    if (bytesRead === 0) break;
    got += bytesRead;
  }
  return bytes.subarray(0, got);
}
