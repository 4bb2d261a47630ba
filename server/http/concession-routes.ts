import { Router } from 'express';
import { concessionEndSchema, concessionRequestSchema } from '../../shared/protocol/concessions.ts';
import type { ErrorCode } from '../../shared/protocol/errors.ts';
import type { ConcedeOutcome } from '../record/conceding.ts';
import { memberOf } from './access.ts';
import { confirmPassword } from './confirm.ts';
import { bodyOf, partOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

/** GET and POST /api/projects/:id/concessions, and POST /api/projects/:id/concessions/:cid/end. */
export function concessionRoutes(parts: HttpParts): Router {
  const router = Router();
  router.get('/projects/:id/concessions', async (req, res) => {
    const { project } = await memberOf(parts, req, 'read');
    const { concessions } = await parts.live.snapshot(project.id);
    res.json({ concessions });
  });
  router.post('/projects/:id/concessions', async (req, res) => {
    const { project, account, roles } = await memberOf(parts, req, 'concede');
    const request = bodyOf(concessionRequestSchema, req);
    await confirmPassword(parts, req, { account, password: request.password }, 'accepting a value');
    const outcome = await parts.live.concede(project.id, { request, account, held: roles });
    res.status(201).json({ concession: request.id, ...rowIn(outcome) });
  });
  router.post('/projects/:id/concessions/:cid/end', async (req, res) => {
    const { project, account, roles } = await memberOf(parts, req, 'concede');
    const id = partOf(req, 'cid');
    const request = bodyOf(concessionEndSchema, req);
    await confirmPassword(parts, req, { account, password: request.password }, 'ending a concession');
    const outcome = await parts.live.endConcession(project.id, { id, request, account, held: roles });
    res.status(201).json({ concession: id, ...rowIn(outcome) });
  });
  return router;
}

function rowIn(outcome: ConcedeOutcome): { readonly id: string; readonly hash: string; readonly seq: number } {
  if (outcome.ok) {
    const { id, hash, seq } = outcome.row;
    return { id, hash, seq };
  }
  const code: ErrorCode = outcome.code === 'not-ready' ? 'gate-held' : outcome.code;
  throw new Refusal(code, { detail: outcome.detail });
}
