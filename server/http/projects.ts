import { Router } from 'express';
import { newProjectSchema, type ProjectDetail, type ProjectView } from '../../shared/protocol/http.ts';
import type { Role } from '../../shared/protocol/roles.ts';
import { isoTime, newId } from '../ambient.ts';
import type { Project } from '../storage/ports.ts';
import { memberOf, signedIn } from './access.ts';
import { bodyOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { accountView } from './session.ts';

/** GET and POST /api/projects, GET /api/projects/:id. */
export function projectRoutes(parts: HttpParts): Router {
  const { records, clock, random } = parts;
  const router = Router();
  router.get('/projects', async (req, res) => {
    const { account } = signedIn(req);
    const memberships = await records.membershipsOf(account.id);
    res.json({ projects: memberships.map(({ project, roles }) => projectView(project, roles)) });
  });
  router.post('/projects', async (req, res) => {
    const { account } = signedIn(req);
    const { name } = bodyOf(newProjectSchema, req);
    const project = { id: newId(random), name, createdAt: isoTime(clock()) };
    const roles: readonly Role[] = ['lead'];
    await records.addProject(project, { projectId: project.id, accountId: account.id, roles });
    res.status(201).json(projectView(project, roles));
  });
  router.get('/projects/:id', async (req, res) => {
    const { project, roles } = await memberOf(parts, req, 'read');
    const participants = await records.participants(project.id);
    const members = participants.map((one) => ({ account: accountView(one.account), roles: [...one.roles] }));
    res.json({ ...projectView(project, roles), members } satisfies ProjectDetail);
  });
  return router;
}

function projectView({ id, name, createdAt }: Project, roles: readonly Role[]): ProjectView {
  return { id, name, createdAt, roles: [...roles] };
}
