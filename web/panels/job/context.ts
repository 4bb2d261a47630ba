import { createContext, useContext } from 'react';
import type { PartShelf } from '../../state/parts.ts';
import type { ProjectSession } from '../../state/project.ts';
import type { ScanShelf } from '../../state/scans.ts';
import type { Store } from '../../state/store.ts';

/** A row of the sheet that is filled by pointing at the scan: where it has a datum point, or the box of a bay component. */
export interface Aim {
  readonly kind: 'datum' | 'box' | 'port';
  readonly row: string;
}

/** What every panel of an open job needs. */
export interface JobContext {
  readonly session: ProjectSession;
  readonly scans: ScanShelf;
  readonly parts: PartShelf;
  /** What places pointed at on the scan are for; null when for nothing. */
  readonly aim: Store<Aim | null>;
  readonly canEdit: boolean;
  readonly canUpload: boolean;
  readonly canInvite: boolean;
}

const Context = createContext<JobContext | null>(null);

export const JobProvider = Context.Provider;

/** The open job. Throws outside a job: that is a bug. */
export function useJob(): JobContext {
  const job = useContext(Context);
  if (!job) throw new Error('used outside an open job');
  return job;
}
