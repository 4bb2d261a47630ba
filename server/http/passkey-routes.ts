import { type Request, Router } from 'express';
import { newPasskeySchema, type PasskeyView, passkeyWishSchema } from '../../shared/protocol/passkeys.ts';
import { passkeys } from '../auth/passkeys.ts';
import type { Passkey } from '../storage/passkeys.ts';
import { signedIn } from './access.ts';
import { confirmPassword } from './confirm.ts';
import { bodyOf, partOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

/** GET and POST /api/account/passkeys, POST .../challenge before one is made, DELETE .../:passkey. */
export function passkeyRoutes(parts: HttpParts): Router {
  const { records } = parts;
  const keys = passkeys(records, parts.clock, parts.random);
  const router = Router();
  router.get('/account/passkeys', async (req, res) => {
    const { account } = signedIn(req);
    res.json({ passkeys: (await records.passkeys(account.id)).map(passkeyView) });
  });
  router.post('/account/passkeys/challenge', async (req, res) => {
    const { account, sessionId: session } = signedIn(req);
    const { password } = bodyOf(passkeyWishSchema, req);
    await confirmPassword(parts, req, { account, password }, 'a new passkey');
    const made = await keys.options({ account, session }, originOf(req));
    if ('problem' in made) throw new Refusal('passkey-refused', { detail: made.problem });
    res.json(made.options);
  });
  router.post('/account/passkeys', async (req, res) => {
    const { account, sessionId: session } = signedIn(req);
    const made = await keys.register({ account, session }, bodyOf(newPasskeySchema, req), originOf(req));
    if ('problem' in made) throw new Refusal('passkey-refused', { detail: made.problem });
    res.status(201).json(passkeyView(made));
  });
  router.delete('/account/passkeys/:passkey', async (req, res) => {
    const { account } = signedIn(req);
    if (!(await records.removePasskey(account.id, partOf(req, 'passkey'))))
      throw new Refusal('not-found', { detail: 'you have no such passkey' });
    res.status(204).end();
  });
  return router;
}

function passkeyView({ id, name, rpId, createdAt, lastUsedAt }: Passkey): PasskeyView {
  return { id, name, rpId, createdAt, lastUsedAt };
}

/** The page's address as its browser names it: what changes something was let through only from our own. */
export function originOf(req: Request): string {
  return req.get('origin') ?? '';
}
