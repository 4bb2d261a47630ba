import type { Request } from 'express';
import { authority, may, type Operation, type Role } from '../../shared/protocol/roles.ts';
import type { Account, Project } from '../storage/ports.ts';
import { partOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';
import { type Requester, requesterOf } from './requester.ts';

export interface Access {
  readonly account: Account;
  readonly sessionId: string;
  readonly project: Project;
  readonly roles: readonly Role[];
}

/** Whoever sent the request. */
export function signedIn(req: Request): Requester {
  const session = requesterOf(req);
  if (!session) throw new Refusal('not-signed-in', { detail: 'there is no session, or it has ended' });
  return session;
}

/** Who asks, and what they are in the project of the address (`:id`), if they may do `operation` there. */
export async function memberOf(
  parts: Pick<HttpParts, 'records'>,
  req: Request,
  operation: Operation,
  projectId = partOf(req, 'id'),
): Promise<Access> {
  const { account, sessionId, onlyProject = projectId } = signedIn(req);
  const project = onlyProject === projectId ? await parts.records.project(projectId) : undefined;
  const member = project && (await parts.records.member(projectId, account.id));
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
