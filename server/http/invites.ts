import { type Request, Router } from 'express';
import {
  type AcceptedInvite,
  acceptInviteSchema,
  type InviteView,
  type MadeInvite,
  newInviteSchema,
  type Offer,
} from '../../shared/protocol/http.ts';
import type { InviteState, Invites } from '../auth/invites.ts';
import type { Account, Invite, Member } from '../storage/ports.ts';
import { memberOf, signedIn } from './access.ts';
import { bodyOf, partOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';
import { accountView, weakPassword } from './session.ts';

/** The lead's side: GET, POST /api/projects/:id/invites and DELETE /api/projects/:id/invites/:invite. */
export function inviteRoutes(parts: HttpParts): Router {
  const { auth, records } = parts;
  const router = Router();
  router.get('/projects/:id/invites', async (req, res) => {
    const { project } = await memberOf(parts, req, 'invite');
    const made = await records.invites(project.id);
    res.json({ invites: made.map((invite) => inviteView(auth.invites, invite)) });
  });
  router.post('/projects/:id/invites', async (req, res) => {
    const { project, account } = await memberOf(parts, req, 'invite');
    const { role } = bodyOf(newInviteSchema, req);
    const { invite, token } = await auth.invites.make(project.id, role, account);
    res.status(201).json({ ...inviteView(auth.invites, invite), token } satisfies MadeInvite);
  });
  router.delete('/projects/:id/invites/:invite', async (req, res) => {
    const { project } = await memberOf(parts, req, 'invite');
    if (!(await auth.invites.revoke(project.id, partOf(req, 'invite')))) {
      throw new Refusal('invite-gone', { detail: 'it was used, revoked or expired before, or is of another project' });
    }
    res.status(204).end();
  });
  return router;
}

/** The guest's side: GET and POST /api/invites/:token. */
export function offerRoutes(parts: HttpParts): Router {
  const { auth, records } = parts;
  const router = Router();
  router.get('/invites/:token', async (req, res) => {
    const invite = await openInvite(auth.invites, partOf(req, 'token'));
    const [project, inviter] = [await records.project(invite.projectId), await records.account(invite.createdBy)];
    const { role, expiresAt } = invite;
    res.json({ project: project?.name ?? '', inviter: inviter?.name ?? '', role, expiresAt } satisfies Offer);
  });
  router.post('/invites/:token', async (req, res) => {
    const body = bodyOf(acceptInviteSchema, req);
    if ('accept' in body) {
      const { account } = signedIn(req);
      res.json(acceptedView(await acceptAs(parts, req, account), account));
      return;
    }
    const outcome = await auth.join(partOf(req, 'token'), body);
    if (outcome.kind === 'weak') throw weakPassword(outcome.problem);
    if (outcome.kind === 'gone') throw gone(undefined);
    if (outcome.kind === 'taken') {
      throw new Refusal('login-taken', { detail: 'if it is yours, sign in and open the link again' });
    }
    res.set('Set-Cookie', outcome.cookie);
    res.status(201).json(acceptedView(outcome.member, outcome.account));
  });
  return router;
}

async function acceptAs({ auth }: HttpParts, req: Request, account: Account): Promise<Member> {
  const outcome = await auth.invites.accept(partOf(req, 'token'), account.id);
  if (outcome.kind !== 'accepted') throw gone(undefined);
  return outcome.member;
}

async function openInvite(invites: Invites, token: string): Promise<Invite> {
  const invite = await invites.find(token);
  const state = invite && invites.state(invite);
  if (!invite || state !== 'open') throw gone(state);
  return invite;
}

function gone(state: InviteState | undefined): Refusal {
  return new Refusal('invite-gone', {
    detail: state === undefined ? 'it was used, revoked or expired, or never made' : `it is ${state}`,
    expected: 'a link that is open; ask the project’s lead for a new one',
  });
}

function inviteView(invites: Invites, invite: Invite): InviteView {
  const { id, role, createdAt, expiresAt } = invite;
  return { id, role, createdAt, expiresAt, state: invites.state(invite) };
}

function acceptedView({ projectId, roles }: Member, account: Account): AcceptedInvite {
  return { projectId, account: accountView(account), roles: [...roles] };
}
