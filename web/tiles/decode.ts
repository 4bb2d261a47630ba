import { MeshoptDecoder } from 'meshoptimizer/decoder';
import { sumOf } from './sum.ts';

/** Bytes of a decoded point: steps along x, y, z and nothing, a Uint16 each. */
const POINT_BYTES = 8;

/** A tile's points as the scene draws them, or why there are none. */
export type DecodedTile =
  | { readonly ok: true; readonly points: Uint16Array<ArrayBuffer> }
  | { readonly ok: false; readonly problem: string };

/** Resolves once the codec can be called. */
export const codecReady: Promise<void> = MeshoptDecoder.ready;

/**
 * Unpacks a tile: its sum is checked first, because a damaged stream would give points that are nowhere.
 * @param packed CRC-32 (little-endian) and the stream of the vertex codec
 * @param count points that the index promises
 */
export function decodeTile(packed: Uint8Array, count: number): DecodedTile {
  if (packed.length < 4) return { ok: false, problem: `expected a tile, got ${packed.length} bytes` };
  const told = new DataView(packed.buffer, packed.byteOffset, 4).getUint32(0, true);
  const stream = packed.subarray(4);
  if (sumOf(stream) !== told) return { ok: false, problem: 'its sum differs' };
  const points = new Uint16Array((count * POINT_BYTES) / 2);
  try {
    MeshoptDecoder.decodeVertexBuffer(new Uint8Array(points.buffer), count, POINT_BYTES, stream);
  } catch {
    return { ok: false, problem: `expected ${count} packed points, got another stream` };
  }
  return { ok: true, points };
}
