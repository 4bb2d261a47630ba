import {
  type Comparison,
  comparisonSchema,
  type HistoryView,
  historySchema,
  type RevisionView,
  revisionListSchema,
  revisionSchema,
  revisionStateSchema,
} from '../../shared/protocol/revisions.ts';
import { call } from '../sync/api.ts';
import type { Feed } from '../sync/feed.ts';
import { createStore, type Store } from './store.ts';

/** The project's revisions, and who changed what. Everything rejects with an ApiProblem. */
export interface RevisionShelf {
  /** Newest first; null until it was fetched. */
  readonly list: Store<readonly RevisionView[] | null>;
  /** Last thing that went wrong while fetching the list, or null. */
  readonly trouble: Store<string | null>;
  refresh(): void;
  keep(name: string, note: string): Promise<RevisionView>;
  entries(id: string): Promise<ReadonlyMap<string, unknown>>;
  /** Where a revision lies as a spec file. */
  address(id: string): string;
  /** Each the id of a revision or `now`. */
  compare(before: string, after: string): Promise<Comparison>;
  /** Newest first; `before` is what an answer gave as `more`. */
  history(path: string | null, before: string | null): Promise<HistoryView>;
}

export function openRevisionShelf(project: string, feed: Pick<Feed, 'revisions'>): RevisionShelf {
  const home = `/api/projects/${project}`;
  const list = createStore<readonly RevisionView[] | null>(null);
  const trouble = createStore<string | null>(null);
  feed.revisions.subscribe(() => list.set(feed.revisions.get()));
  return {
    list,
    trouble,
    refresh() {
      call('GET', `${home}/revisions`, { schema: revisionListSchema }).then(
        ({ revisions }) => {
          trouble.set(null);
          list.set(revisions);
        },
        (error: Error) => trouble.set(error.message),
      );
    },
    keep: (name, note) => call('POST', `${home}/revisions`, { body: { name, note }, schema: revisionSchema }),
    entries: async (id) => {
      const { entries } = await call('GET', `${home}/revisions/${id}`, { schema: revisionStateSchema });
      return new Map(Object.entries(entries));
    },
    address: (id) => `${home}/revisions/${id}/spec`,
    compare: (before, after) =>
      call('GET', `${home}/compare?${new URLSearchParams({ before, after })}`, { schema: comparisonSchema }),
    history: (path, before) => {
      const query = new URLSearchParams({ ...(path !== null && { path }), ...(before !== null && { before }) });
      return call('GET', `${home}/history?${query}`, { schema: historySchema });
    },
  };
}
