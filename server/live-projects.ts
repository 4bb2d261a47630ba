import type { IncomingMessage } from 'node:http';
import { may } from '../shared/protocol/roles.ts';
import type { Clock, Random } from './ambient.ts';
import type { Auth } from './auth/auth.ts';
import { partView } from './http/part-routes.ts';
import type { LiveProjects } from './http/parts.ts';
import { scanView } from './http/scans.ts';
import type { MeasureService } from './measure/service.ts';
import { decisions } from './record/decisions.ts';
import type { RecordKey } from './record/recordKey.ts';
import type { VerdictFeed } from './rooms/feed.ts';
import type { RoomRegistry } from './rooms/registry.ts';
import { editScripted, remarkScripted } from './rooms/scripted.ts';
import type { Records } from './storage/ports.ts';
import type { DocumentAccess } from './sync/upgrade.ts';

/** What live projects are made of. */
export interface LiveParts {
  readonly store: { readonly records: Records; readonly recordKey: RecordKey };
  readonly rooms: RoomRegistry;
  readonly feed: VerdictFeed;
  readonly service: MeasureService;
  readonly clock: Clock;
  readonly random: Random;
}

/** The live projects as HTTP asks for them. */
export function liveProjects({ store, rooms, feed, service, clock, random }: LiveParts): LiveProjects {
  return {
    entries: async (project) => (await rooms.open(project)).entries(),
    snapshot: async (project) => (await rooms.open(project)).snapshot(),
    ...decisions((project) => rooms.open(project), { records: store.records, key: store.recordKey, clock, random }),
    edit: async (project, edit) => editScripted(await rooms.open(project), edit),
    remark: async (project, remark) => remarkScripted(await rooms.open(project), remark),
    expel: async (project, account) => {
      feed.expel(project, account);
      await rooms.expel(project, account);
    },
    scanAdded: async (project) => {
      service.forgetFailures();
      feed.scans(project, (await store.records.scans(project)).map(scanView));
    },
    partAdded: async (project) => {
      service.forgetFailures();
      feed.parts(project, (await store.records.parts(project)).map(partView));
    },
  };
}

export interface AccessParts {
  readonly auth: Auth;
  readonly store: { readonly records: Records };
  readonly rooms: RoomRegistry;
}

/** What a person may do with a document they open over a socket; null: nothing, for whatever reason. */
export async function documentAccess(
  { auth, store, rooms }: AccessParts,
  request: IncomingMessage,
  { project, document }: { project: string; document: 'spec' | 'markup' },
): Promise<DocumentAccess | null> {
  const session = await auth.readSession(request.headers.cookie);
  const member = session && (await store.records.member(project, session.account.id));
  if (!session || !member) return null;
  const { id: account, name } = session.account;
  const canWrite = may(member.roles, document === 'spec' ? 'editSpec' : 'comment');
  return {
    hub: (await rooms.open(project)).document(document),
    identity: { account, name, roles: member.roles },
    canWrite,
    session: session.sessionId,
  };
}
