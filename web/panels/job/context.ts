import { createContext, useContext } from 'react';
import type { NoticeShelf } from '../../state/notices.ts';
import type { PartShelf } from '../../state/parts.ts';
import type { ProjectSession } from '../../state/project.ts';
import type { RevisionShelf } from '../../state/revisions.ts';
import type { ScanShelf } from '../../state/scans.ts';
import type { SendingDesk } from '../../state/sending.ts';
import type { Store } from '../../state/store.ts';
import type { TakePicture } from '../papers/pictures.ts';

/** A row of the sheet that is filled by pointing at the scan: where it has a datum point, or the box of a bay component. */
export interface Aim {
  readonly kind: 'datum' | 'box' | 'port' | 'stud';
  readonly row: string;
}

/** What every panel of an open job needs. */
export interface JobContext {
  readonly session: ProjectSession;
  readonly scans: ScanShelf;
  readonly parts: PartShelf;
  readonly revisions: RevisionShelf;
  readonly notices: NoticeShelf;
  /** Files on their way to the server. */
  readonly sending: SendingDesk;
  /** The field of the sheet that was last entered. */
  readonly touched: Store<string | null>;
  /** What places pointed at on the scan are for; null when for nothing. */
  readonly aim: Store<Aim | null>;
  /** Takes pictures of the 3D view; null while there is none. */
  readonly camera: Store<TakePicture | null>;
  readonly canEdit: boolean;
  readonly canUpload: boolean;
  readonly canInvite: boolean;
  readonly canManage: boolean;
}

const Context = createContext<JobContext | null>(null);

export const JobProvider = Context.Provider;

/** The open job. Throws outside a job: that is a bug. */
export function useJob(): JobContext {
  const job = useContext(Context);
  if (!job) throw new Error('used outside an open job');
  return job;
}
