import type { TileIndex } from '../shared/geometry/tiles.ts';
import { createMeasurePool, type MeasurePool } from './measure/pool.ts';
import type { MeshFiles } from './parts.ts';
import { meshRemaker } from './remake-mesh.ts';
import { type NamedScan, NearnessShelf } from './scan-nearness.ts';
import { type ScanGrids, scanKey } from './scans.ts';
import type { Blobs } from './storage/ports.ts';

/** Where scans and parts lie. */
export interface NearnessStore {
  readonly grids: ScanGrids;
  readonly meshes: MeshFiles;
  readonly blobs: Blobs;
}

/** What makes grids and tiles of scans. */
export interface ScanMaking<S extends NamedScan> {
  readonly tiles: (scan: S) => Promise<{ readonly index: TileIndex }>;
  readonly readScan: (scan: S) => Promise<unknown>;
}

/** A shelf with a thread of its own, which starts when it is first needed: one thread, because what it keeps of a scan is worth seconds. */
export function openNearness<S extends NamedScan>(
  { grids, meshes, blobs }: NearnessStore,
  pool: Pick<MeasurePool, 'run'>,
  { tiles, readScan }: ScanMaking<S>,
): { readonly shelf: NearnessShelf<S>; readonly pool: Pick<MeasurePool, 'destroy'> } {
  let own: MeasurePool | undefined;
  const shelf = new NearnessShelf<S>({
    pool: () => {
      own ??= createMeasurePool(1);
      return own;
    },
    scanFile: (scan) => grids.file(scanKey(scan)),
    meshFile: meshes.file,
    tiles,
    readScan,
    remakeMesh: meshRemaker({ pool, blobs, files: meshes }),
  });
  return { shelf, pool: { destroy: async () => own?.destroy() } };
}
