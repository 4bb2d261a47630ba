import type { Request } from 'express';
import { authority, may, type Operation, type Role } from '../../shared/protocol/roles.ts';
import type { SignedIn } from '../auth/sessions.ts';
import type { Account, Project } from '../storage/ports.ts';
import { partOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

export interface Access {
  readonly account: Account;
  readonly sessionId: string;
  readonly project: Project;
  readonly roles: readonly Role[];
}

export async function signedIn({ auth }: Pick<HttpParts, 'auth'>, req: Request): Promise<SignedIn> {
  const session = await auth.readSession(req.headers.cookie);
  if (!session) throw new Refusal('not-signed-in', { detail: 'there is no session, or it has ended' });
  return session;
}

/** Who asks, and what they are in the project of the address (`:id`), if they may do `operation` there. */
export async function memberOf(
  parts: Pick<HttpParts, 'auth' | 'records'>,
  req: Request,
  operation: Operation,
  projectId = partOf(req, 'id'),
): Promise<Access> {
  const { account, sessionId } = await signedIn(parts, req);
  const project = await parts.records.project(projectId);
  const member = await parts.records.member(projectId, account.id);
  // The same answer for "no such project" and "not yours": an outsider learns nothing.
  if (!project || !member) throw new Refusal('not-found', { detail: 'you are in no such project' });
  const { roles } = member;
  if (!may(roles, operation)) {
    throw new Refusal('wrong-role', {
      detail: `${operation} is not for you in this project`,
      expected: `one of the roles ${authority[operation].join(', ')}`,
      came: roles.length > 0 ? roles.join(', ') : 'no role',
    });
  }
  return { account, sessionId, project, roles };
}
