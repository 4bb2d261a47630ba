import { Router } from 'express';
import { planRequestSchema } from '../../shared/protocol/plan.ts';
import { memberOf } from './access.ts';
import { confirmPassword } from './confirm.ts';
import { bodyOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

/** GET and PUT /api/projects/:id/plan: what the job asks of each gate. */
export function planRoutes(parts: HttpParts): Router {
  const router = Router();
  router.get('/projects/:id/plan', async (req, res) => {
    const { project } = await memberOf(parts, req, 'read');
    res.json((await parts.live.snapshot(project.id)).plan);
  });
  router.put('/projects/:id/plan', async (req, res) => {
    const { project, account, roles } = await memberOf(parts, req, 'plan');
    const request = bodyOf(planRequestSchema, req);
    await confirmPassword(parts, req, { account, password: request.password }, 'changing the plan');
    const outcome = await parts.live.changePlan(project.id, { request, account, held: roles });
    if (!outcome.ok)
      throw new Refusal(outcome.code === 'not-ready' ? 'gate-held' : outcome.code, { detail: outcome.detail });
    const { id, hash, seq } = outcome.row;
    res.json({ id, hash, seq });
  });
  return router;
}
