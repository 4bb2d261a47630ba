import { type ScanView, scanListSchema } from '../../shared/protocol/http.ts';
import { askedNearnessSchema } from '../../shared/protocol/nearness.ts';
import {
  type AskedScanFit,
  askedScanFitSchema,
  type FittedScan,
  fittedScanSchema,
} from '../../shared/protocol/scanFit.ts';
import { tileIndexSchema } from '../../shared/protocol/tiles.ts';
import type { BayComponent } from '../../shared/spec/spec.ts';
import { ApiProblem, call, fetchBytes } from '../sync/api.ts';
import { askUntilSettled, type Settled } from '../sync/asking.ts';
import type { Feed } from '../sync/feed.ts';
import { NearnessSource } from '../tiles/nearness.ts';
import { TileSource } from '../tiles/source.ts';
import { TileWorkbench } from '../tiles/workbench.ts';
import { createStore, type Store } from './store.ts';

/** Where a scan lies: as its file says, or where the datum points put it. */
export type Placed = 'as-uploaded' | 'by-datums';

/** Which bay component's scan is to be laid on that of which other, by their ids. */
export interface FitWish {
  readonly component: string;
  readonly onto: string;
}

/** The project's uploaded scans, and the tiles to show of each. */
export interface ScanShelf {
  readonly list: Store<readonly ScanView[]>;
  /** Last thing that went wrong while fetching, or null. */
  readonly trouble: Store<string | null>;
  find(component: BayComponent): ScanView | null;
  tiles(scan: ScanView): Promise<TileSource>;
  /** How near the header is to a scan where it lies; nothing is asked for before its first `refresh`. */
  nearness(scan: ScanView, placed: Placed): Promise<NearnessSource>;
  /** How well a scan can be laid on another, once that has been measured. */
  fit(wish: FitWish, stop: AbortSignal): Promise<Settled<AskedScanFit>>;
  /** Makes the copy that lies on the other; it is in the list when this resolves. */
  fitted(wish: FitWish): Promise<FittedScan>;
  refresh(): void;
  close(): void;
}

export function openScanShelf(project: string, feed: Feed): ScanShelf {
  const list = createStore<readonly ScanView[]>([]);
  const trouble = createStore<string | null>(null);
  const fetched = new Map<string, Promise<TileSource>>();
  const near = new Map<string, NearnessSource>();
  const bench = new TileWorkbench();
  const refresh = (): void => {
    call('GET', `/api/projects/${project}/scans`, { schema: scanListSchema }).then(
      (answer) => list.set(answer.scans),
      (error: Error) => trouble.set(error.message),
    );
  };
  feed.scans.subscribe(() => {
    const scans = feed.scans.get();
    if (scans) list.set(scans);
  });
  // With the link back, what could not be had is worth another try.
  let connected = feed.state.get().connected;
  feed.state.subscribe(() => {
    const now = feed.state.get().connected;
    if (now && !connected) {
      trouble.set(null);
      for (const source of fetched.values()) source.then((s) => s.retry()).catch(() => undefined);
    }
    connected = now;
  });
  refresh();
  const load = async (scan: ScanView): Promise<TileSource> => {
    const path = `/api/projects/${project}/scans/${scan.id}/tiles`;
    const index = await call('GET', path, { schema: tileIndexSchema });
    return new TileSource(index, {
      fetch: (from, end, again) => fetchBytes(`${path}/${index.stamp}/${from}-${end}`, again),
      decode: bench.decode,
      trouble: (problem) => trouble.set(`Part of the scan ${scan.name} is not shown: ${problem}. The rest is.`),
    });
  };
  const nearOf = (scan: ScanView, placed: Placed, { tiles }: TileSource): NearnessSource => {
    const path = `/api/projects/${project}/scans/${scan.id}/nearness`;
    return new NearnessSource(tiles, {
      ask: (stop) => askUntilSettled(`${path}?placed=${placed}`, askedNearnessSchema, stop),
      fetch: (name, { from, end }) =>
        fetchBytes(`${path}/${name}/${from}-${end}`, false).catch((error: Error) => {
          if (error instanceof ApiProblem && error.code === 'not-found') return null;
          throw error;
        }),
      trouble: (problem) => trouble.set(`How near part of the scan ${scan.name} is cannot be shown: ${problem}.`),
    });
  };
  const fitting = `/api/projects/${project}/scan-fit`;
  return {
    list,
    trouble,
    refresh,
    fit: (wish, stop) => askUntilSettled(`${fitting}?${new URLSearchParams({ ...wish })}`, askedScanFitSchema, stop),
    async fitted(wish) {
      const made = await call('POST', fitting, { body: wish, schema: fittedScanSchema });
      if (!list.get().some(({ id }) => id === made.scan.id)) list.set([...list.get(), made.scan]);
      return made;
    },
    close() {
      bench.close();
      for (const source of near.values()) source.close();
    },
    async nearness(scan, placed) {
      const tiles = await this.tiles(scan);
      const key = `${scan.id} ${placed}`;
      const source = near.get(key) ?? nearOf(scan, placed, tiles);
      near.set(key, source);
      return source;
    },
    find: (c) => list.get().find((s) => s.sha256 === c.scan && s.unit === c.scanUnit) ?? null,
    tiles(scan) {
      const there = fetched.get(scan.id);
      if (there !== undefined) return there;
      const loading = load(scan);
      fetched.set(scan.id, loading);
      loading.catch((error: Error) => {
        fetched.delete(scan.id);
        const why =
          error instanceof ApiProblem ? error.message : `the index of its points is damaged (${error.message})`;
        trouble.set(`The scan ${scan.name} cannot be shown: ${why}`);
      });
      return loading;
    },
  };
}
