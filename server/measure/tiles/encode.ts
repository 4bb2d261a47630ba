import { crc32 } from 'node:zlib';
import { MeshoptEncoder } from 'meshoptimizer/encoder';
import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import { TILES_VERSION, type TileIndex } from '../../../shared/geometry/tiles.ts';
import { cutTiles } from './cut.ts';

/** Bytes of a decoded point: three Uint16 and a fourth that is empty, because graphics devices and the codec want multiples of four. */
export const POINT_BYTES = 8;

/** The codec's greatest effort: packing is done once a scan, sending often. */
const EFFORT = 3;

/** A scan's tiles, ready to be written. */
export interface EncodedTiles {
  readonly index: TileIndex;
  /** The bytes of each tile in turn: CRC-32 of what follows (little-endian u32), then a stream of the vertex codec. */
  readonly tiles: readonly Uint8Array[];
}

/** Cuts a scan into tiles and packs them. */
export async function encodeTiles(grid: PointGrid): Promise<EncodedTiles> {
  await MeshoptEncoder.ready;
  const tiles: Uint8Array[] = [];
  const numbers: number[][] = [];
  let sum = 0;
  const cut = cutTiles(grid, ({ level, at, count, points }) => {
    const packed = packTile(points, count);
    sum = crc32(packed, sum);
    tiles.push(packed);
    numbers[level] ??= [];
    numbers[level].push(...at, count, packed.length);
  });
  return {
    tiles,
    index: {
      version: TILES_VERSION,
      points: grid.count,
      origin: cut.origin,
      stamp: sum.toString(16).padStart(8, '0'),
      levels: cut.levels.map((level, i) => ({ ...level, tiles: numbers[i] ?? [] })),
    },
  };
}

function packTile(points: Uint16Array, count: number): Uint8Array {
  const bytes = new Uint8Array(points.buffer, points.byteOffset, points.byteLength);
  const stream = MeshoptEncoder.encodeVertexBufferLevel(bytes, count, POINT_BYTES, EFFORT, 1);
  const packed = Buffer.alloc(4 + stream.length);
  packed.set(stream, 4);
  packed.writeUInt32LE(crc32(stream), 0);
  return packed;
}
