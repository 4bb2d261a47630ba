import { Router } from 'express';
import { growthProof, recordFile, recordHead, rowProof } from '../record/record.ts';
import { memberOf } from './access.ts';
import { partOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

/**
 * GET /api/projects/:id/record: all sign-offs with their signed heads, to keep and verify elsewhere; /record/head: the last head;
 * /record/proof/:seq: one row and that it stands there; /record/growth/:size: that the record only grew since it had so many rows.
 */
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
  router.get('/projects/:id/record/proof/:seq', async (req, res) => {
    const { project } = await memberOf(parts, req, 'export');
    const proof = await rowProof(project.id, wholeOf(partOf(req, 'seq')), from);
    if (!proof) throw new Refusal('not-found', { detail: 'the record has no such row' });
    res.attachment(`row-${proof.row.seq}.json`).json(proof);
  });
  router.get('/projects/:id/record/growth/:size', async (req, res) => {
    const { project } = await memberOf(parts, req, 'export');
    const proof = await growthProof(project.id, wholeOf(partOf(req, 'size')), from);
    if (!proof) throw new Refusal('not-found', { detail: 'the record never had so many rows' });
    res.attachment(`since-${proof.since}.json`).json(proof);
  });
  return router;
}

/** A number as addresses write it; NaN, which no row has, for anything else. */
function wholeOf(text: string): number {
  return /^[1-9]\d{0,8}$/.test(text) ? Number(text) : Number.NaN;
}
