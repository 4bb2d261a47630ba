import { Router } from 'express';
import { type AccountView, type SessionView, setupSchema, signInSchema } from '../../shared/protocol/http.ts';
import type { Account } from '../storage/ports.ts';
import { addressOf, bodyOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

/** GET, POST, DELETE /api/session and POST /api/setup. */
export function sessionRoutes({ auth }: HttpParts): Router {
  const router = Router();
  router.get('/session', async (req, res) => {
    const session = await auth.readSession(req.headers.cookie);
    const setup = (await auth.setupCode()) !== undefined;
    res.json({ account: session ? accountView(session.account) : null, setup } satisfies SessionView);
  });
  router.post('/session', async (req, res) => {
    const outcome = await auth.signIn({ ...bodyOf(signInSchema, req), address: addressOf(req) });
    if (outcome.kind === 'too-many') throw tooMany(outcome.retryAfter);
    if (outcome.kind === 'wrong') throw new Refusal('wrong-credentials', { detail: 'check both and try again' });
    // A session the browser had before is over, whoever it belonged to.
    await auth.signOut(req.headers.cookie);
    res.set('Set-Cookie', outcome.cookie);
    res.json({ account: accountView(outcome.account), setup: false } satisfies SessionView);
  });
  router.delete('/session', async (req, res) => {
    res.set('Set-Cookie', await auth.signOut(req.headers.cookie));
    res.status(204).end();
  });
  router.post('/setup', async (req, res) => {
    const outcome = await auth.setUp({ ...bodyOf(setupSchema, req), address: addressOf(req) });
    switch (outcome.kind) {
      case 'too-many':
        throw tooMany(outcome.retryAfter);
      case 'already':
        throw new Refusal('already-set-up', { detail: 'sign in, or ask for an invite link' });
      case 'wrong-code':
        throw new Refusal('wrong-setup-code', { detail: 'the code stands on the console the server was started from' });
      case 'weak':
        throw weakPassword(outcome.problem);
      case 'signed-in':
        res.set('Set-Cookie', outcome.cookie);
        res.status(201).json({ account: accountView(outcome.account), setup: false } satisfies SessionView);
    }
  });
  return router;
}

/** What others may know of an account: never its password's hash. */
export function accountView({ id, login, name }: Account): AccountView {
  return { id, login, name };
}

export function tooMany(retryAfter: number): Refusal {
  return new Refusal('too-many', { detail: `try again in ${Math.ceil(retryAfter / 60)} min`, retryAfter });
}

export function weakPassword(detail: string): Refusal {
  return new Refusal('weak-password', { detail });
}
