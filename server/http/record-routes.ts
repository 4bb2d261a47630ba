import { Router } from 'express';
import { recordFile, recordHead } from '../record/record.ts';
import { memberOf } from './access.ts';
import type { HttpParts } from './parts.ts';

/** GET /api/projects/:id/record: all sign-offs with their signed heads, to keep and verify elsewhere; and /record/head: the last head. */
export function recordRoutes(parts: HttpParts): Router {
  const router = Router();
  const from = { records: parts.records, key: parts.recordKey, clock: parts.clock };
  router.get('/projects/:id/record', async (req, res) => {
    const { project } = await memberOf(parts, req, 'export');
    res.attachment('record.json').json(await recordFile(project.id, from));
  });
  router.get('/projects/:id/record/head', async (req, res) => {
    const { project } = await memberOf(parts, req, 'read');
    res.json({ head: await recordHead(project.id, from) });
  });
  return router;
}
