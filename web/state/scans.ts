import { type ScanView, scanListSchema } from '../../shared/protocol/http.ts';
import type { BayComponent } from '../../shared/spec/spec.ts';
import { ApiProblem, call } from '../sync/api.ts';
import type { Feed } from '../sync/feed.ts';
import { createStore, type Store } from './store.ts';

/** Points drawn per component: enough to recognise it, few enough for a shop tablet. */
const SHOWN_POINTS = 25_000;

/** The project's uploaded scans, and the points to show for each. */
export interface ScanShelf {
  readonly list: Store<readonly ScanView[]>;
  /** Last thing that went wrong while fetching, or null. */
  readonly trouble: Store<string | null>;
  find(component: BayComponent): ScanView | null;
  /** Float32 x, y, z in metres. */
  points(scan: ScanView): Promise<Float32Array>;
  refresh(): void;
}

export function openScanShelf(project: string, feed: Feed): ScanShelf {
  const list = createStore<readonly ScanView[]>([]);
  const trouble = createStore<string | null>(null);
  const fetched = new Map<string, Promise<Float32Array>>();
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
  refresh();
  const load = async (scan: ScanView): Promise<Float32Array> => {
    const response = await fetch(`/api/projects/${project}/scans/${scan.id}/points?max=${SHOWN_POINTS}`);
    if (!response.ok)
      throw new ApiProblem(
        'points',
        response.status,
        `The points of ${scan.name} could not be read (${response.status}).`,
      );
    return new Float32Array(await response.arrayBuffer());
  };
  return {
    list,
    trouble,
    refresh,
    find: (c) => list.get().find((s) => s.sha256 === c.scan && s.unit === c.scanUnit) ?? null,
    points(scan) {
      const there = fetched.get(scan.id);
      if (there !== undefined) return there;
      const loading = load(scan);
      fetched.set(scan.id, loading);
      loading.catch((error: Error) => {
        fetched.delete(scan.id);
        trouble.set(error.message);
      });
      return loading;
    },
  };
}
