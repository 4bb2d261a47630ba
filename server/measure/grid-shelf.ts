import type { PointGrid } from '../../shared/geometry/cloud.ts';

/** Most that a worker keeps of loaded grids, bytes (own: four 5 M-point scans with their boxes). */
export const SHELF_BYTES = 320 * 1024 ** 2;

/** How a shelf gets its grids. */
export interface ShelfSource {
  /** Reads a grid that is not on the shelf. */
  readonly load: (file: string) => PointGrid;
  /** Changes whenever the file's content may have: a grid written anew under the same name is loaded anew. */
  readonly stamp: (file: string) => string;
}

/** Keeps the grids used last, within a limit of bytes; the one in use is kept even when it alone exceeds it. */
export function createGridShelf(source: ShelfSource, maxBytes = SHELF_BYTES): { get: (file: string) => PointGrid } {
  // A Map remembers the order of insertion, so taking out and putting back makes it a queue by last use.
  const shelf = new Map<string, { readonly grid: PointGrid; readonly stamp: string }>();
  const size = (grid: PointGrid): number => grid.positions.byteLength + grid.boxes.byteLength;
  const get = (file: string): PointGrid => {
    const stamp = source.stamp(file);
    const kept = shelf.get(file);
    shelf.delete(file);
    const grid = kept?.stamp === stamp ? kept.grid : source.load(file);
    shelf.set(file, { grid, stamp });
    let total = Array.from(shelf.values()).reduce((sum, entry) => sum + size(entry.grid), 0);
    for (const [oldest, old] of shelf) {
      if (total <= maxBytes || oldest === file) break;
      shelf.delete(oldest);
      total -= size(old.grid);
    }
    return grid;
  };
  return { get };
}
