import { Router } from 'express';
import { markupStateSchema, newCommentSchema, newMarkupSchema } from '../../shared/protocol/edits.ts';
import { memberOf } from './access.ts';
import { onceOnly } from './idempotency.ts';
import { bodyOf, partOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { keptSeq } from './spec-edit.ts';

/** GET and POST /api/projects/:id/markups; of each POST .../comments and PUT .../state. */
export function markupRoutes(parts: HttpParts): Router {
  const { live, papers } = parts;
  const router = Router();
  const once = onceOnly(parts);
  const timeId = timeIds(parts);
  router.get('/projects/:id/markups', async (req, res) => {
    const { project } = await memberOf(parts, req, 'read');
    res.json({ markups: await papers.threads(project.id) });
  });
  router.post('/projects/:id/markups', async (req, res) => {
    const { project, account } = await memberOf(parts, req, 'comment');
    const { at, text } = bodyOf(newMarkupSchema, req);
    await once(req, res, account.id, async () => {
      const id = timeId();
      const opened = { kind: 'open', id, account: account.id, anchor: { kind: 'place', at }, text } as const;
      const seq = keptSeq(await live.remark(project.id, opened));
      const thread = (await papers.threads(project.id)).find((one) => one.id === id);
      return { status: 201, body: { thread: id, n: thread?.n ?? 0, seq } };
    });
  });
  router.post('/projects/:id/markups/:thread/comments', async (req, res) => {
    const { project, account } = await memberOf(parts, req, 'comment');
    const { text } = bodyOf(newCommentSchema, req);
    const thread = partOf(req, 'thread');
    await once(req, res, account.id, async () => {
      const answer = { kind: 'answer', thread, id: timeId(), account: account.id, text } as const;
      return { status: 201, body: { seq: keptSeq(await live.remark(project.id, answer)) } };
    });
  });
  router.put('/projects/:id/markups/:thread/state', async (req, res) => {
    const { project, account } = await memberOf(parts, req, 'comment');
    const { state } = bodyOf(markupStateSchema, req);
    const thread = partOf(req, 'thread');
    res.json({ seq: keptSeq(await live.remark(project.id, { kind: 'state', thread, state, account: account.id })) });
  });
  return router;
}

/** Ids as the app makes them: comments are shown in the order of their ids. */
function timeIds({ clock, random }: Pick<HttpParts, 'clock' | 'random'>): () => string {
  return () => {
    const chance = Buffer.from(random(4)).readUInt32BE() % 36 ** 4;
    return `${clock().toString(36)}${chance.toString(36).padStart(4, '0')}`;
  };
}
