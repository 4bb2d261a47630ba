import type { DecodedTile } from './decode.ts';
import type { TileCut } from './source.ts';
import type { TileAsk } from './tileWorker.ts';

interface Waiting {
  readonly done: (tiles: readonly DecodedTile[]) => void;
  readonly failed: (error: Error) => void;
}

/** Unpacks tiles beside the page's own thread, so that turning the view never waits for it. The thread starts with the first tile. */
export class TileWorkbench {
  private worker: Worker | null = null;
  private readonly waiting = new Map<number, Waiting>();
  private asked = 0;

  /** Unpacks tiles that lie in the bytes one after the other; the bytes are given away. Rejects when the browser has no such thread. */
  readonly decode = (bytes: ArrayBuffer, tiles: readonly TileCut[]): Promise<readonly DecodedTile[]> =>
    new Promise((done, failed) => {
      this.worker ??= this.start();
      const id = this.asked++;
      this.waiting.set(id, { done, failed });
      const ask: TileAsk = { id, bytes, tiles: tiles.map(({ bytes: size, count }) => ({ bytes: size, count })) };
      this.worker.postMessage(ask, [bytes]);
    });

  close(): void {
    this.worker?.terminate();
    this.worker = null;
    this.fail('closed');
  }

  private start(): Worker {
    const worker = new Worker(new URL('./tileWorker.ts', import.meta.url), { type: 'module' });
    worker.addEventListener('message', ({ data }: MessageEvent<{ id: number; tiles: readonly DecodedTile[] }>) => {
      this.waiting.get(data.id)?.done(data.tiles);
      this.waiting.delete(data.id);
    });
    worker.addEventListener('error', (event) => this.fail(event.message || 'its thread stopped'));
    return worker;
  }

  private fail(reason: string): void {
    for (const { failed } of this.waiting.values()) failed(new Error(`the points could not be unpacked: ${reason}`));
    this.waiting.clear();
  }
}
