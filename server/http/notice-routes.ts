import { createHash } from 'node:crypto';
import { Router } from 'express';
import {
  type HookView,
  type MadeHook,
  type MailState,
  mailAddressSchema,
  mailCodeSchema,
  type NoticeView,
  newHookSchema,
  readNoticesSchema,
} from '../../shared/protocol/notices.ts';
import { isoTime, newId } from '../ambient.ts';
import type { Hook, MailAddress, Notice } from '../storage/notices.ts';
import { memberOf, signedIn } from './access.ts';
import { bodyOf, partOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

/** GET /api/projects/:id/notices and POST .../read; GET, POST /api/projects/:id/hooks and DELETE .../:hook. */
export function noticeRoutes(parts: HttpParts): Router {
  const { records, notices, clock } = parts;
  const router = Router();
  router.get('/projects/:id/notices', async (req, res) => {
    const { project, account } = await memberOf(parts, req, 'read');
    res.json({ notices: (await records.notices(project.id, account.id)).map(noticeView) });
  });
  router.post('/projects/:id/notices/read', async (req, res) => {
    const { project, account } = await memberOf(parts, req, 'read');
    const { ids } = bodyOf(readNoticesSchema, req);
    const count = await records.readNotices(project.id, account.id, ids, isoTime(clock()));
    if (count > 0) notices.changed(project.id, account.id);
    res.status(204).end();
  });
  router.get('/projects/:id/hooks', async (req, res) => {
    const { project } = await memberOf(parts, req, 'manage');
    res.json({ hooks: await Promise.all((await records.hooks(project.id)).map((one) => hookView(parts, one))) });
  });
  router.post('/projects/:id/hooks', async (req, res) => {
    const { project, account } = await memberOf(parts, req, 'manage');
    const { url } = bodyOf(newHookSchema, req);
    const problem = await notices.hookProblem(url);
    if (problem !== null)
      throw new Refusal('hook-refused', { detail: problem, expected: 'an https: address on the internet' });
    const secret = `whsec_${Buffer.from(parts.random(32)).toString('base64')}`;
    const made = { id: newId(parts.random), projectId: project.id, url, secret, createdBy: account.id };
    const hook = { ...made, createdAt: isoTime(clock()), endedAt: null };
    await records.addHook(hook);
    res.status(201).json({ ...(await hookView(parts, hook)), secret } satisfies MadeHook);
  });
  router.delete('/projects/:id/hooks/:hook', async (req, res) => {
    const { project } = await memberOf(parts, req, 'manage');
    if (!(await records.endHook(project.id, partOf(req, 'hook'), isoTime(clock()))))
      throw new Refusal('not-found', { detail: 'nothing is posted there any more' });
    res.status(204).end();
  });
  return router;
}

function noticeView({ id, kind, words, place, at, readAt }: Notice): NoticeView {
  return { id, kind, words, place, at, readAt };
}

async function hookView({ records }: HttpParts, { id, url, createdAt }: Hook): Promise<HookView> {
  return { id, url, createdAt, ...(await records.countDeliveries(id)) };
}

/** How long a mailed code can be typed, ms. */
const CODE_LIFE = 15 * 60_000;
/** Wrong codes until it is void. */
const CODE_TRIES = 5;
/** One code in so long, ms: the address may be somebody else's. */
const CODE_PAUSE = 60_000;

const hash = (code: string): string =>
  createHash('sha256')
    .update(code.toUpperCase().replaceAll(/[^A-Z0-9]/g, ''))
    .digest('hex');

/** GET, PUT and DELETE /api/account/mail, POST /api/account/mail/confirm. */
export function mailRoutes(parts: HttpParts): Router {
  const { records, clock } = parts;
  const { mailCode } = parts.notices;
  const sent = new Map<string, number>();
  const router = Router();
  const state = (kept: MailAddress | undefined): MailState => mailState(kept, mailCode !== undefined);
  router.get('/account/mail', async (req, res) => {
    res.json(state(await records.mailAddress(signedIn(req).account.id)));
  });
  router.put('/account/mail', async (req, res) => {
    const { id: accountId } = signedIn(req).account;
    const { address } = bodyOf(mailAddressSchema, req);
    const wait = (sent.get(accountId) ?? Number.NEGATIVE_INFINITY) + CODE_PAUSE - clock();
    if (wait > 0)
      throw new Refusal('too-many', { detail: 'a code was sent a moment ago', retryAfter: Math.ceil(wait / 1000) });
    if (mailCode) sent.set(accountId, clock());
    res.json(state(await sendCode(parts, accountId, address)));
  });
  router.delete('/account/mail', async (req, res) => {
    await records.removeMailAddress(signedIn(req).account.id);
    res.status(204).end();
  });
  router.post('/account/mail/confirm', async (req, res) => {
    const { id: accountId } = signedIn(req).account;
    res.json(state(await confirm(parts, accountId, bodyOf(mailCodeSchema, req).code)));
  });
  return router;
}

function mailState(kept: MailAddress | undefined, possible: boolean): MailState {
  return { possible, address: kept?.address ?? null, confirmed: (kept?.confirmedAt ?? null) !== null };
}

async function sendCode(parts: HttpParts, accountId: string, address: string): Promise<MailAddress> {
  const { mailCode } = parts.notices;
  if (!mailCode) throw new Refusal('no-mail', { detail: 'whoever runs it has to set SMTP_URL and MAIL_FROM first' });
  const code = inventCode(parts);
  const made = { accountId, address, codeHash: hash(code), codeUntil: isoTime(parts.clock() + CODE_LIFE) };
  const kept = { ...made, tries: 0, confirmedAt: null };
  await parts.records.putMailAddress(kept);
  await mailCode(address, code).catch((error: unknown) => {
    parts.alarm(error, 'mailing a code');
    throw new Refusal('no-mail', { detail: 'the mail server did not take the mail; try again later' });
  });
  return kept;
}

async function confirm({ records, clock }: HttpParts, accountId: string, code: string): Promise<MailAddress> {
  const kept = await records.mailAddress(accountId);
  const now = isoTime(clock());
  const wrong = new Refusal('wrong-mail-code', { detail: 'look at the last mail again, or have another code sent' });
  if (!kept || kept.codeHash === null || (kept.codeUntil ?? '') <= now || kept.tries >= CODE_TRIES) throw wrong;
  if (hash(code) !== kept.codeHash) {
    await records.putMailAddress({ ...kept, tries: kept.tries + 1 });
    throw wrong;
  }
  const confirmed = { ...kept, codeHash: null, codeUntil: null, tries: 0, confirmedAt: now };
  await records.putMailAddress(confirmed);
  return confirmed;
}

/** 40 bits to be copied from a mail: no 0, 1, I or O. */
function inventCode({ random }: HttpParts): string {
  const alphabet = 'ABCDEFGHJKLMNPQRSTUVWXYZ23456789';
  const text = Array.from(random(8), (byte) => alphabet[byte & 31]).join('');
  return `${text.slice(0, 4)}-${text.slice(4)}`;
}
