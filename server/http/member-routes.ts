import { Router } from 'express';
import { isoTime } from '../ambient.ts';
import { memberOf } from './access.ts';
import { partOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

/** DELETE /api/projects/:id/members/:account: takes somebody out, at once. */
export function memberRoutes(parts: HttpParts): Router {
  const router = Router();
  router.delete('/projects/:id/members/:account', async (req, res) => {
    const { project } = await memberOf(parts, req, 'manage');
    const account = partOf(req, 'account');
    const leaving = await parts.records.removeMember(project.id, account, isoTime(parts.clock()));
    if (leaving === 'not-there') throw new Refusal('not-found', { detail: 'this person is not in the job' });
    if (leaving === 'last-lead')
      throw new Refusal('last-lead', { detail: 'somebody else has to be lead first: invite them as lead' });
    await parts.live.expel(project.id, account);
    res.status(204).end();
  });
  return router;
}
