import { Router } from 'express';
import { exportFormats } from '../../shared/protocol/http.ts';
import { headerStep } from '../../shared/quantities/headerStep.ts';
import { whyWords } from '../../shared/rules/words.ts';
import { readSpec } from '../../shared/spec/reader.ts';
import { isoTime } from '../ambient.ts';
import { memberOf } from './access.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

/** GET /api/projects/:id/header.step: the runners as exact tubes; and header.stl, .3mf, .glb, .ply: the whole as one closed solid. */
export function headerRoutes(parts: HttpParts): Router {
  const router = Router();
  router.get('/projects/:id/header.step', async (req, res) => {
    const { project } = await memberOf(parts, req, 'export');
    const made = headerStep(readSpec(await parts.live.entries(project.id)), isoTime(parts.clock()));
    if (!made.known) throw nothingYet(whyWords(made.why), 'runners whose bends fit');
    res.attachment('header.step').type('model/step').send(made.value);
  });
  for (const format of exportFormats)
    router.get(`/projects/:id/header.${format}`, async (req, res) => {
      const { project } = await memberOf(parts, req, 'export');
      const made = await parts.headerFile(readSpec(await parts.live.entries(project.id)), format);
      if (made.kind === 'problem')
        throw nothingYet(made.message, 'runners whose bends fit, or printed pieces that are closed');
      const { buffer, byteOffset, byteLength } = made.bytes;
      res.attachment(`header.${format}`).type('application/octet-stream');
      res.send(Buffer.from(buffer, byteOffset, byteLength));
    });
  return router;
}

const nothingYet = (why: string, expected: string): Refusal =>
  new Refusal('nothing-to-export', { detail: `there is no whole header yet: ${why}`, expected });
