import { setTimeout as after } from 'node:timers/promises';
import type { RevisionView } from '../../shared/protocol/revisions.ts';
import type { KeptChange } from '../storage/changes.ts';
import type { AskedMeasurements } from './judging.ts';
import { type RevisionParts, Revisions, type SpecEntries } from './revisions.ts';

/** What revisions need of an open project. */
interface LiveProject {
  entries(): SpecEntries;
  snapshot(): { readonly seq: number };
  readonly changes: { of: (query: Parameters<RevisionParts['changes']>[0]) => Promise<readonly KeptChange[]> };
}

/** What there is to make revisions of. */
export interface LiveRevisionParts extends Pick<RevisionParts, 'records' | 'blobs' | 'clock' | 'random'> {
  readonly rooms: { open(project: string): Promise<LiveProject> };
  readonly desk: { open(arrived: () => void): AskedMeasurements };
  readonly feed: { revisions(project: string, list: readonly RevisionView[]): void };
}

/** Revisions of the projects that are open, which are opened when they are not. */
export function liveRevisions({ rooms, desk, feed, ...stores }: LiveRevisionParts): Revisions {
  return new Revisions({
    ...stores,
    state: async (project) => {
      const room = await rooms.open(project);
      // In one turn: both are of what is on disk now.
      return { entries: room.entries(), seq: room.snapshot().seq };
    },
    changes: async (query) => (await rooms.open(query.project)).changes.of(query),
    measurements: (arrived) => desk.open(arrived),
    added: (project, list) => feed.revisions(project, list),
    pause: (ms, stop) => after(ms, undefined, { signal: stop, ref: false }).catch(() => undefined),
  });
}
