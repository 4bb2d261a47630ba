import type { Role } from '../../shared/protocol/roles.ts';
import { type Clock, isoTime, type Random } from '../ambient.ts';
import type { AcceptanceOutcome, Account, Invite, Records } from '../storage/ports.ts';
import { tokenHash } from './cookies.ts';

const LIFE = 72 * 3_600_000;

export type InviteState = 'open' | 'used' | 'revoked' | 'expired';

export interface Invites {
  /** The token goes into the link and is never to be had again. */
  make(projectId: string, role: Role, by: Account): Promise<{ invite: Invite; token: string }>;
  /** The invite behind a link, whatever its state. */
  find(token: string): Promise<Invite | undefined>;
  state(invite: Invite): InviteState;
  revoke(projectId: string, id: string): Promise<boolean>;
  /** For an account that exists (its id, which must come from a session) or a new one. */
  accept(token: string, account: Account | string): Promise<AcceptanceOutcome>;
}

export function invites(records: Records, clock: Clock, random: Random): Invites {
  const now = () => isoTime(clock());
  return {
    make: async (projectId, role, by) => {
      const token = Buffer.from(random(32)).toString('base64url');
      const expiresAt = isoTime(clock() + LIFE);
      const made = { id: tokenHash(token), projectId, role, createdBy: by.id, createdAt: now(), expiresAt };
      const invite = { ...made, usedAt: null, usedBy: null, revokedAt: null };
      await records.addInvite(invite);
      return { invite, token };
    },
    find: (token) => records.invite(tokenHash(token)),
    state: (invite) => {
      if (invite.usedAt !== null) return 'used';
      if (invite.revokedAt !== null) return 'revoked';
      return invite.expiresAt <= now() ? 'expired' : 'open';
    },
    revoke: (projectId, id) => records.revokeInvite(projectId, id, now()),
    accept: (token, account) => records.acceptInvite({ inviteId: tokenHash(token), at: now(), account }),
  };
}
