import {
  type AskedPoses,
  type AskedReport,
  askedPosesSchema,
  askedReportSchema,
  type ExportFormat,
  type MendedPart,
  mendedPartSchema,
  type PartView,
  partListSchema,
} from '../../shared/protocol/http.ts';
import type { Element } from '../../shared/spec/spec.ts';
import { type PartMesh, readPartMesh } from '../scene/partMesh.ts';
import { ApiProblem, call } from '../sync/api.ts';
import { askUntilSettled, type Settled } from '../sync/asking.ts';
import type { Feed } from '../sync/feed.ts';
import { createStore, type Store } from './store.ts';

/** The project's uploaded parts, their surfaces and what was measured of them. */
export interface PartShelf {
  readonly list: Store<readonly PartView[]>;
  /** Last thing that went wrong while fetching, or null. */
  readonly trouble: Store<string | null>;
  /** The part a piece is made from, if it names one that is here. */
  find(piece: Pick<Element<'pieces'>, 'mesh' | 'meshUnit'>): PartView | null;
  /** Fetched once, however often it is asked for. */
  mesh(part: PartView): Promise<PartMesh>;
  /** Where a part lies as a file; with a turn in its build pose. */
  address(part: PartView, format: ExportFormat, turn?: readonly number[]): string;
  /** What is wrong with it, once that has been measured. */
  report(part: PartView, stop: AbortSignal): Promise<Settled<AskedReport>>;
  /** Makes a mended copy, which is a part of its own; gives what was done. */
  mend(part: PartView): Promise<MendedPart>;
  poses(part: PartView, alloy: string | undefined, stop: AbortSignal): Promise<Settled<AskedPoses>>;
  refresh(): void;
}

export function openPartShelf(project: string, feed: Pick<Feed, 'parts'>): PartShelf {
  const list = createStore<readonly PartView[]>([]);
  const trouble = createStore<string | null>(null);
  const fetched = new Map<string, Promise<PartMesh>>();
  const home = `/api/projects/${project}/parts`;
  const refresh = (): void => {
    call('GET', home, { schema: partListSchema }).then(
      (answer) => list.set(answer.parts),
      (error: Error) => trouble.set(error.message),
    );
  };
  feed.parts.subscribe(() => {
    const parts = feed.parts.get();
    if (parts) list.set(parts);
  });
  refresh();
  const address: PartShelf['address'] = (part, format, turn) =>
    `${home}/${part.id}/mesh?format=${format}${turn ? `&turn=${turn.join(',')}` : ''}`;
  const load = async (part: PartView): Promise<PartMesh> => {
    const response = await fetch(address(part, 'glb'));
    if (!response.ok)
      throw new ApiProblem('mesh', response.status, `${part.name} could not be fetched (${response.status}).`);
    return readPartMesh(await response.arrayBuffer());
  };
  return {
    ...{ list, trouble, address, refresh },
    find: ({ mesh, meshUnit }) => list.get().find((p) => p.sha256 === mesh && p.unit === meshUnit) ?? null,
    mesh(part) {
      const there = fetched.get(part.id);
      if (there !== undefined) return there;
      const loading = load(part);
      fetched.set(part.id, loading);
      loading.catch((error: Error) => {
        fetched.delete(part.id);
        trouble.set(error.message);
      });
      return loading;
    },
    report: (part, stop) => askUntilSettled(`${home}/${part.id}/report`, askedReportSchema, stop),
    mend: (part) => call('POST', `${home}/${part.id}/mended`, { body: {}, schema: mendedPartSchema }),
    poses: (part, alloy, stop) =>
      askUntilSettled(`${home}/${part.id}/poses${alloy ? `?alloy=${alloy}` : ''}`, askedPosesSchema, stop),
  };
}
