import { mkdirSync } from 'node:fs';
import { rename } from 'node:fs/promises';
import { join } from 'node:path';
import { TILES_VERSION } from '../shared/geometry/tiles.ts';
import type { Measure } from './http/parts.ts';
import { GRID_VERSION } from './measure/grid-file.ts';
import type { MeasurePool } from './measure/pool.ts';
import { TileShelf } from './scan-tiles.ts';

/** Where the sorted points of a scan lie: by content hash and unit, because the same file in another unit is another scan. */
export interface ScanGrids {
  file(key: string): string;
  /** The tiles of the same scan, for showing it. */
  tiles(key: string): string;
}

/** Grid files below the data folder; the format's version is in the name, so a newer server reads the scan anew. */
export function scanGrids(dataDir: string): ScanGrids {
  const folder = join(dataDir, 'grids');
  mkdirSync(folder, { recursive: true });
  const named = (key: string): string => join(folder, key.replace(/[^a-z0-9-]/gi, '_'));
  return {
    file: (key) => `${named(key)}.v${GRID_VERSION}.grid`,
    tiles: (key) => `${named(key)}.v${TILES_VERSION}.tiles`,
  };
}

/** Names a scan for measuring. */
export const scanKey = (scan: { readonly sha256: string; readonly unit: string }): string =>
  `${scan.sha256}-${scan.unit}`;

/** The measuring part as HTTP needs it: reading an upload into a grid, and cutting one into tiles for the scene. */
export function scanMeasure(pool: Pick<MeasurePool, 'run'>, grids: ScanGrids): Measure {
  const read: Measure['readScan'] = async (scan) => {
    const out = grids.file(scanKey(scan));
    // Written beside and moved into place: a reader never meets half a grid.
    const made = await pool.run({
      kind: 'readScan',
      file: scan.file,
      unitFactor: scan.metresPerUnit,
      out: `${out}.new`,
    });
    if (!made.ok) return { kind: 'problem', message: made.problem.message };
    await rename(`${out}.new`, out);
    tiles.begin(scan);
    const { count, format, bounds, spacing, unplaced } = made.result;
    const { least, greatest } = bounds;
    return {
      kind: 'read',
      points: count,
      format,
      bounds: { min: [...least], max: [...greatest] },
      spacing: spacing ?? null,
      unplaced,
    };
  };
  const tiles = new TileShelf({
    ...{ pool, read },
    files: (scan) => ({ grid: grids.file(scanKey(scan)), tiles: grids.tiles(scanKey(scan)) }),
  });
  return {
    readScan: read,
    tiles: tiles.open,
  };
}
