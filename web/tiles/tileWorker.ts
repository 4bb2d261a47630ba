import { codecReady, decodeTile } from './decode.ts';
import type { TileCut } from './source.ts';

/** Bytes to unpack, by a number that the answer repeats. */
export interface TileAsk {
  readonly id: number;
  readonly bytes: ArrayBuffer;
  readonly tiles: readonly TileCut[];
}

addEventListener('message', ({ data }: MessageEvent<TileAsk>) => {
  void codecReady.then(() => {
    let from = 0;
    const tiles = data.tiles.map(({ bytes, count }) => {
      const packed = new Uint8Array(data.bytes, from, bytes);
      from += bytes;
      return decodeTile(packed, count);
    });
    // The points change hands and are not copied.
    const transfer = tiles.flatMap((tile) => (tile.ok ? [tile.points.buffer] : []));
    postMessage({ id: data.id, tiles }, { transfer });
  });
});
