import { Router } from 'express';
import { may } from '../../shared/protocol/roles.ts';
import { type MadeToken, newTokenSchema, scopeOperation, type TokenView } from '../../shared/protocol/tokens.ts';
import { isoTime } from '../ambient.ts';
import { tokens } from '../auth/tokens.ts';
import type { ApiToken } from '../storage/tokens.ts';
import { memberOf } from './access.ts';
import { bodyOf, partOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

/** GET and POST /api/projects/:id/tokens, DELETE /api/projects/:id/tokens/:token: one's own; a lead sees and revokes all. */
export function tokenRoutes(parts: HttpParts): Router {
  const { records, clock } = parts;
  const keys = tokens(records, clock, parts.random);
  const router = Router();
  router.get('/projects/:id/tokens', async (req, res) => {
    const { project, account, roles } = await memberOf(parts, req, 'read');
    const all = await records.tokens(project.id);
    const shown = all.filter((one) => one.accountId === account.id || may(roles, 'manage'));
    res.json({ tokens: await Promise.all(shown.map((one) => view(parts, one))) });
  });
  router.post('/projects/:id/tokens', async (req, res) => {
    const { project, account, roles } = await memberOf(parts, req, 'read');
    const { name, scopes, expiresAt } = bodyOf(newTokenSchema, req);
    const beyond = scopes.filter((scope) => !may(roles, scopeOperation[scope]));
    if (beyond.length > 0)
      throw new Refusal('wrong-role', {
        detail: `your own roles do not allow ${beyond.join(', ')}, so no key of yours can`,
        expected: 'scopes within your roles',
        came: scopes.join(', '),
      });
    const made = await keys.make({ projectId: project.id, account, name, scopes, expiresAt });
    if (made === 'bad-end')
      throw new Refusal('bad-request', {
        detail: 'a key needs an end',
        expected: 'an end from now to one year from now',
        came: expiresAt,
      });
    res.status(201).json({ ...(await view(parts, made.token)), token: made.text } satisfies MadeToken);
  });
  router.delete('/projects/:id/tokens/:token', async (req, res) => {
    const { project, account, roles } = await memberOf(parts, req, 'read');
    const token = await records.token(partOf(req, 'token'));
    const mine = token?.projectId === project.id && (token.accountId === account.id || may(roles, 'manage'));
    if (!mine || !(await records.revokeToken(project.id, token.id, isoTime(clock()))))
      throw new Refusal('not-found', { detail: 'there is no such key of yours that is still good' });
    res.status(204).end();
  });
  return router;
}

async function view({ records }: Pick<HttpParts, 'records'>, token: ApiToken): Promise<TokenView> {
  const { id, name, scopes, createdAt, expiresAt, lastUsedAt, revokedAt } = token;
  const owner = { id: token.accountId, name: (await records.account(token.accountId))?.name ?? '' };
  return { id, name, owner, scopes: [...scopes], createdAt, expiresAt, lastUsedAt, revokedAt };
}
