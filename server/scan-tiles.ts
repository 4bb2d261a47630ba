import { existsSync } from 'node:fs';
import type { ScanFile, ScanReading, TiledScan } from './http/parts.ts';
import type { MeasurePool } from './measure/pool.ts';
import { readTileIndex, readTiles, type TileFile, TileFileError } from './measure/tiles/tile-file.ts';

/** Indices kept in memory (own: some 50 kB each). */
const MOST_OPEN = 64;

export interface TileShelfOptions {
  readonly pool: Pick<MeasurePool, 'run'>;
  /** Where the sorted points of a scan lie, and where its tiles do. */
  readonly files: (scan: ScanFile) => { readonly grid: string; readonly tiles: string };
  /** Reads a scan into its grid file. */
  readonly read: (scan: ScanFile) => Promise<ScanReading>;
}

/** Tiles of scans on disk: each is made once, however many ask for it at a time. */
export class TileShelf {
  private readonly options: TileShelfOptions;
  private readonly opened = new Map<string, Promise<TileFile>>();

  constructor(options: TileShelfOptions) {
    this.options = options;
  }

  /** The tiles of a scan; made when there are none, or none that can be used. */
  readonly open = async (scan: ScanFile): Promise<TiledScan> => {
    const file = await this.opening(scan);
    const path = this.options.files(scan).tiles;
    return { index: file.index, length: file.length, bytes: (from, end) => readTiles(path, file, from, end) };
  };

  /** Makes the tiles of a scan just read, for whoever looks at it first. */
  begin(scan: ScanFile): void {
    // What goes wrong is told to who asks for the tiles: that tries once more.
    this.opening(scan).catch(() => undefined);
  }

  private opening(scan: ScanFile): Promise<TileFile> {
    const { opened } = this;
    const key = this.options.files(scan).tiles;
    const there = opened.get(key);
    if (there !== undefined) return there;
    const finding = this.find(scan);
    opened.set(key, finding);
    finding.catch(() => opened.delete(key));
    for (const oldest of opened.keys()) {
      if (opened.size <= MOST_OPEN) break;
      opened.delete(oldest);
    }
    return finding;
  }

  private async find(scan: ScanFile): Promise<TileFile> {
    const path = this.options.files(scan).tiles;
    if (existsSync(path)) {
      try {
        return await readTileIndex(path);
      } catch (error) {
        // The grid file has every point: a damaged tile file costs a second, not a scan.
        if (!(error instanceof TileFileError)) throw error;
      }
    }
    await this.make(scan);
    return readTileIndex(path);
  }

  private async make(scan: ScanFile): Promise<void> {
    const { pool, files } = this.options;
    const { grid: scanFile, tiles: out } = files(scan);
    if (!existsSync(scanFile)) await this.read(scan);
    let made = await pool.run({ kind: 'tileScan', scanFile, out });
    if (!made.ok && made.problem.code === 'bad-grid-file') {
      await this.read(scan);
      made = await pool.run({ kind: 'tileScan', scanFile, out });
    }
    if (!made.ok) throw new Error(`scan ${scan.name}: ${made.problem.message}`);
  }

  private async read(scan: ScanFile): Promise<void> {
    const reading = await this.options.read(scan);
    if (reading.kind === 'problem') throw new Error(`scan ${scan.name}: ${reading.message}`);
  }
}
