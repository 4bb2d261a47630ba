import type { Measure } from './http/parts.ts';
import { createMeasurePool, type MeasurePool } from './measure/pool.ts';
import type { MeshFiles } from './parts.ts';
import { meshRemaker } from './remake-mesh.ts';
import { NearnessShelf } from './scan-nearness.ts';
import { type ScanGrids, scanKey } from './scans.ts';
import type { Blobs } from './storage/ports.ts';

/** Where scans and parts lie. */
export interface NearnessStore {
  readonly grids: ScanGrids;
  readonly meshes: MeshFiles;
  readonly blobs: Blobs;
}

/** A shelf with a thread of its own, which starts when it is first needed: one thread, because what it keeps of a scan is worth seconds. */
export function openNearness(
  { grids, meshes, blobs }: NearnessStore,
  pool: Pick<MeasurePool, 'run'>,
  measure: Measure,
): { readonly shelf: NearnessShelf; readonly pool: Pick<MeasurePool, 'destroy'> } {
  let own: MeasurePool | undefined;
  const shelf = new NearnessShelf({
    pool: () => {
      own ??= createMeasurePool(1);
      return own;
    },
    scanFile: (scan) => grids.file(scanKey(scan)),
    meshFile: meshes.file,
    tiles: (scan) => measure.tiles(scan),
    readScan: (scan) => measure.readScan(scan),
    remakeMesh: meshRemaker({ pool, blobs, files: meshes }),
  });
  return { shelf, pool: { destroy: async () => own?.destroy() } };
}
