import { Router } from 'express';
import type { SigningAnswer } from '../../shared/gates/maySign.ts';
import type { ErrorCode } from '../../shared/protocol/errors.ts';
import { signRequestSchema } from '../../shared/protocol/signing.ts';
import { isGateId } from '../../shared/spec/gateId.ts';
import { verifyChain } from '../record/chain.ts';
import { memberOf } from './access.ts';
import { confirmPassword } from './confirm.ts';
import { bodyOf, partOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

type No = Exclude<SigningAnswer, { ok: true }>;

const codes: Readonly<Record<No['code'], ErrorCode>> = {
  'facts-moved': 'facts-moved',
  'not-ready': 'gate-held',
  'wrong-role': 'wrong-role',
  'already-signed': 'already-signed',
  'same-person': 'same-person',
};

/** GET /api/projects/:id/gates, GET /api/projects/:id/signatures and POST /api/projects/:id/gates/:gate/signatures. */
export function gateRoutes(parts: HttpParts): Router {
  const router = Router();
  router.get('/projects/:id/gates', async (req, res) => {
    const { project } = await memberOf(parts, req, 'read');
    const { gates, ruleSet, seq } = await parts.live.snapshot(project.id);
    res.json({ gates, ruleSet, seq });
  });
  router.get('/projects/:id/signatures', async (req, res) => {
    const { project } = await memberOf(parts, req, 'read');
    const rows = await parts.records.signOffs(project.id);
    // Rows that are no signatures stand under no gate.
    res.json({ signatures: rows.filter(({ gate }) => gate !== ''), chain: verifyChain(project.id, rows) });
  });
  router.post('/projects/:id/gates/:gate/signatures', async (req, res) => {
    const { project, account, roles } = await memberOf(parts, req, 'read');
    const gate = partOf(req, 'gate');
    if (!isGateId(gate)) throw new Refusal('not-found', { detail: `there is no gate ${gate}` });
    const request = bodyOf(signRequestSchema, req);
    await confirmPassword(parts, req, { account, password: request.password }, 'signing');
    const outcome = await parts.live.sign(project.id, { gate, request, account, held: roles });
    if (!outcome.ok) throw new Refusal(codes[outcome.code], { detail: outcome.detail });
    const { id, hash, seq } = outcome.row;
    res.status(201).json({ id, hash, seq });
  });
  return router;
}
