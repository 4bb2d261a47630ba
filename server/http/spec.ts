import { Router } from 'express';
import { headerStep } from '../../shared/quantities/headerStep.ts';
import { whyWords } from '../../shared/rules/words.ts';
import { exportSpec } from '../../shared/spec/file.ts';
import { readSpec } from '../../shared/spec/reader.ts';
import { isoTime } from '../ambient.ts';
import { memberOf } from './access.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

/** GET /api/projects/:id/spec (the spec file), /header.step (its runners as exact tubes) and /verdicts. */
export function specRoutes(parts: HttpParts): Router {
  const router = Router();
  router.get('/projects/:id/spec', async (req, res) => {
    const { project } = await memberOf(parts, req, 'export');
    res.attachment('spec.json').json(exportSpec(await parts.live.entries(project.id)));
  });
  router.get('/projects/:id/header.step', async (req, res) => {
    const { project } = await memberOf(parts, req, 'export');
    const made = headerStep(readSpec(await parts.live.entries(project.id)), isoTime(parts.clock()));
    if (!made.known) {
      const expected = 'runners whose bends fit, with a tube';
      throw new Refusal('nothing-to-export', {
        detail: 'the header has no tubes to write yet',
        expected,
        came: whyWords(made.why),
      });
    }
    res.attachment('header.step').type('model/step').send(made.value);
  });
  router.get('/projects/:id/verdicts', async (req, res) => {
    const { project } = await memberOf(parts, req, 'read');
    const { verdicts, ruleSet, seq } = await parts.live.snapshot(project.id);
    res.json({ verdicts, ruleSet, seq });
  });
  return router;
}
