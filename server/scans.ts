import { existsSync, mkdirSync } from 'node:fs';
import { rename } from 'node:fs/promises';
import { join } from 'node:path';
import type { Measure } from './http/parts.ts';
import { GRID_VERSION } from './measure/grid-file.ts';
import type { MeasurePool } from './measure/pool.ts';

/** Where the sorted points of a scan lie: by content hash and unit, because the same file in another unit is another scan. */
export interface ScanGrids {
  file(key: string): string;
}

/** Grid files below the data folder; the format's version is in the name, so a newer server reads the scan anew. */
export function scanGrids(dataDir: string): ScanGrids {
  const folder = join(dataDir, 'grids');
  mkdirSync(folder, { recursive: true });
  return { file: (key) => join(folder, `${key.replace(/[^a-z0-9-]/gi, '_')}.v${GRID_VERSION}.grid`) };
}

/** Names a scan for measuring. */
export const scanKey = (scan: { readonly sha256: string; readonly unit: string }): string =>
  `${scan.sha256}-${scan.unit}`;

/** The measuring part as HTTP needs it: reading an upload into a grid, and thinning one for the scene. */
export function scanMeasure(pool: MeasurePool, grids: ScanGrids): Measure {
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
    const { count, format, bounds, spacing } = made.result;
    const { least, greatest } = bounds;
    return {
      kind: 'read',
      points: count,
      format,
      bounds: { min: [...least], max: [...greatest] },
      spacing: spacing ?? null,
    };
  };
  return {
    readScan: read,
    async thin(scan, max) {
      const grid = grids.file(scanKey(scan));
      if (!existsSync(grid)) await read(scan);
      const made = await pool.run({ kind: 'thin', scanFile: grid, max, seed: 1 });
      if (!made.ok) throw new Error(`scan ${scan.name}: ${made.problem.message}`);
      const { points, origin } = made.result;
      for (let i = 0; i < points.length; i++) points[i] = (points[i] ?? 0) + (origin[i % 3] ?? 0);
      return points;
    },
  };
}
