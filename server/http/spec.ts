import { Router } from 'express';
import { exportSpec } from '../../shared/spec/file.ts';
import { memberOf } from './access.ts';
import type { HttpParts } from './parts.ts';

/** GET /api/projects/:id/spec (the spec file) and GET /api/projects/:id/verdicts. */
export function specRoutes(parts: HttpParts): Router {
  const router = Router();
  router.get('/projects/:id/spec', async (req, res) => {
    const { project } = await memberOf(parts, req, 'export');
    const { seq } = await parts.live.snapshot(project.id);
    // For If-Match: an edit made meanwhile is later than the number, and refuses the next one.
    res.set('ETag', `"${seq}"`);
    res.attachment('spec.json').json(exportSpec(await parts.live.entries(project.id)));
  });
  router.get('/projects/:id/verdicts', async (req, res) => {
    const { project } = await memberOf(parts, req, 'read');
    const { verdicts, ruleSet, seq } = await parts.live.snapshot(project.id);
    res.json({ verdicts, ruleSet, seq });
  });
  return router;
}
