import { type Request, Router } from 'express';
import { compareQuerySchema, historyQuerySchema, newRevisionSchema } from '../../shared/protocol/revisions.ts';
import { exportSpec } from '../../shared/spec/file.ts';
import { memberOf } from './access.ts';
import { bodyOf, inShape, partOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

/**
 * GET and POST /api/projects/:id/revisions; of each its entries, and .../spec, the spec file; GET /api/projects/:id/compare?before=&after=
 * and GET /api/projects/:id/history?path=&since=&before=&limit=. To restore one is an edit like any other: over the document socket.
 */
export function revisionRoutes(parts: HttpParts): Router {
  const { revisions } = parts;
  const router = Router();
  router.get('/projects/:id/revisions', async (req, res) => {
    const { project } = await memberOf(parts, req, 'read');
    res.json({ revisions: await revisions.list(project.id) });
  });
  router.post('/projects/:id/revisions', async (req, res) => {
    const { project, account } = await memberOf(parts, req, 'editSpec');
    res.status(201).json(await revisions.make(project.id, account.id, bodyOf(newRevisionSchema, req)));
  });
  router.get('/projects/:id/revisions/:revision', async (req, res) => {
    const { project } = await memberOf(parts, req, 'read');
    const { revision, entries } = await stateOf(parts, req, project.id);
    res.json({ revision, entries: Object.fromEntries(entries) });
  });
  router.get('/projects/:id/revisions/:revision/spec', async (req, res) => {
    const { project } = await memberOf(parts, req, 'export');
    const { revision, entries } = await stateOf(parts, req, project.id);
    res.attachment(`spec-${revision.letter}.json`).json(exportSpec(entries));
  });
  router.get('/projects/:id/compare', async (req, res) => {
    const { project } = await memberOf(parts, req, 'read');
    const { before, after } = inShape(compareQuerySchema, req.query, 'the query');
    const found = await revisions.compare(project.id, before, after);
    if ('missing' in found) throw noRevision(found.missing);
    res.json(found);
  });
  router.get('/projects/:id/history', async (req, res) => {
    const { project } = await memberOf(parts, req, 'read');
    res.json(await revisions.history(project.id, inShape(historyQuerySchema, req.query, 'the query')));
  });
  return router;
}

async function stateOf({ revisions }: HttpParts, req: Request, project: string) {
  const id = partOf(req, 'revision');
  const found = await revisions.state(project, id);
  if (!found) throw noRevision(id);
  return found;
}

function noRevision(id: string): Refusal {
  return new Refusal('not-found', {
    detail: 'this project has no such revision',
    expected: 'the id of one in its list',
    came: id.slice(0, 64),
  });
}
