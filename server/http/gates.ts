import { type Request, Router } from 'express';
import type { ErrorCode } from '../../shared/protocol/errors.ts';
import {
  type OfferView,
  offerRequestSchema,
  type SignRequest,
  signRequestSchema,
} from '../../shared/protocol/signing.ts';
import { type Evidence, hostOf } from '../../shared/record/assertion.ts';
import { type GateId, isGateId } from '../../shared/spec/gateId.ts';
import { isoTime } from '../ambient.ts';
import { type Passkeys, passkeys } from '../auth/passkeys.ts';
import { verifyChain } from '../record/chain.ts';
import { type Offer, Offers } from '../record/offers.ts';
import type { SigningRefused } from '../record/signing.ts';
import type { Account } from '../storage/ports.ts';
import { memberOf } from './access.ts';
import { confirmPassword } from './confirm.ts';
import { bodyOf, partOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { originOf } from './passkey-routes.ts';
import { Refusal } from './refusal.ts';

const codes: Readonly<Record<SigningRefused['code'], ErrorCode>> = {
  'facts-moved': 'facts-moved',
  'record-moved': 'record-moved',
  'not-ready': 'gate-held',
  'wrong-role': 'wrong-role',
  'already-signed': 'already-signed',
  'same-person': 'same-person',
};

/**
 * GET /api/projects/:id/gates, GET /api/projects/:id/signatures, and to sign: POST /api/projects/:id/gates/:gate/challenge for what will be
 * signed, then POST /api/projects/:id/gates/:gate/signatures with its nonce.
 */
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
  signingRoutes(parts, router);
  return router;
}

function signingRoutes(parts: HttpParts, router: Router): void {
  const offers = new Offers(parts.clock);
  const keys = passkeys(parts.records, parts.clock, parts.random);
  router.post('/projects/:id/gates/:gate/challenge', async (req, res) => {
    const { project, account, roles, sessionId: session } = await memberOf(parts, req, 'read');
    const gate = gateOf(req);
    const request = bodyOf(offerRequestSchema, req);
    const usable = request.confirmedBy === 'passkey' ? await keys.usable(account.id, originOf(req)) : [];
    if (request.confirmedBy === 'passkey' && usable.length === 0)
      throw new Refusal('passkey-refused', {
        detail: 'you have no passkey for this address; register one under More, Passkeys, or sign with your password',
      });
    const outcome = await parts.live.offer(project.id, { gate, request, account, held: roles });
    if (!outcome.ok) throw new Refusal(codes[outcome.code], { detail: outcome.detail });
    const offer = offers.add(outcome.statement, { account: account.id, session });
    res.status(201).json(offerView(offer, { credentials: usable.map(({ id }) => id), origin: originOf(req) }));
  });
  router.post('/projects/:id/gates/:gate/signatures', async (req, res) => {
    const { project, account, roles, sessionId: session } = await memberOf(parts, req, 'read');
    const gate = gateOf(req);
    const request = bodyOf(signRequestSchema, req);
    const to = { account: account.id, session };
    const offer = offers.find(request.nonce, to);
    if (offer?.statement.project !== project.id || offer.statement.gate !== gate) throw gone();
    const evidence = await confirmation({ parts, keys, req, account }, offer, request);
    // Taken only now: a mistyped password may be typed again. And of two at once only one gets here.
    const taken = offers.take(request.nonce, to);
    if (!taken) throw gone();
    const confirmed = { statement: taken.statement, account, held: roles, ...(evidence && { evidence }) };
    const outcome = await parts.live.sign(project.id, confirmed);
    if (!outcome.ok) throw new Refusal(codes[outcome.code], { detail: outcome.detail });
    const { id, hash, seq } = outcome.row;
    res.status(201).json({ id, hash, seq });
  });
}

function gateOf(req: Request): GateId {
  const gate = partOf(req, 'gate');
  if (!isGateId(gate)) throw new Refusal('not-found', { detail: `there is no gate ${gate}` });
  return gate;
}

function gone(): Refusal {
  return new Refusal('offer-gone', {
    detail:
      'it was signed already, or five minutes have passed; see whether the gate is signed, else read again what you sign',
  });
}

function offerView(
  { statement, text, sha256, until }: Offer,
  at: { credentials: string[]; origin: string },
): OfferView {
  const { credentials, origin } = at;
  return { nonce: statement.nonce, statement: text, sha256, until: isoTime(until), credentials, rpId: hostOf(origin) };
}

interface Signer {
  readonly parts: HttpParts;
  readonly keys: Passkeys;
  readonly req: Request;
  readonly account: Account;
}

/** Makes sure it is he, in the way his statement says; a passkey's answer is kept with it. */
async function confirmation(
  { parts, keys, req, account }: Signer,
  { statement, sha256 }: Offer,
  { password, assertion }: SignRequest,
): Promise<Evidence | undefined> {
  const { confirmedBy } = statement.signer;
  if ((confirmedBy === 'password') !== (password !== undefined))
    throw new Refusal('bad-request', {
      detail: 'what was read says how it is confirmed',
      expected: `a ${confirmedBy}`,
      came: `a ${password === undefined ? 'passkey' : 'password'}`,
    });
  if (password !== undefined) await confirmPassword(parts, req, { account, password }, 'signing');
  if (!assertion) return undefined;
  const asked = { account: account.id, challenge: sha256, origin: originOf(req) };
  const found = await keys.confirm(asked, assertion);
  if ('problem' in found) throw new Refusal('passkey-refused', { detail: `${found.problem}; nothing was signed` });
  return found.evidence;
}
