/** Most that a worker keeps of loaded grids, and of loaded meshes, bytes (own: four 5 M-point scans with their boxes). */
export const SHELF_BYTES = 320 * 1024 ** 2;

/** How a shelf gets what it keeps. */
export interface ShelfSource<T> {
  /** Reads a file that is not on the shelf. */
  readonly load: (file: string) => T;
  /** Changes whenever the file's content may have: what was written anew under the same name is loaded anew. */
  readonly stamp: (file: string) => string;
  /** Bytes it takes in memory. */
  readonly size: (loaded: T) => number;
}

/** Keeps what was used last, within a limit of bytes; what is in use is kept even when it alone exceeds it. */
export function createShelf<T>(source: ShelfSource<T>, maxBytes = SHELF_BYTES): { get: (file: string) => T } {
  // A Map remembers the order of insertion, so taking out and putting back makes it a queue by last use.
  const shelf = new Map<string, { readonly loaded: T; readonly stamp: string }>();
  const get = (file: string): T => {
    const stamp = source.stamp(file);
    const kept = shelf.get(file);
    shelf.delete(file);
    const loaded = kept?.stamp === stamp ? kept.loaded : source.load(file);
    shelf.set(file, { loaded, stamp });
    let total = Array.from(shelf.values()).reduce((sum, entry) => sum + source.size(entry.loaded), 0);
    for (const [oldest, old] of shelf) {
      if (total <= maxBytes || oldest === file) break;
      shelf.delete(oldest);
      total -= source.size(old.loaded);
    }
    return loaded;
  };
  return { get };
}
