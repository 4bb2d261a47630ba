import type { Request } from 'express';
import { addressOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

type Confirm = Omit<Parameters<HttpParts['auth']['confirm']>[0], 'address'>;

/** Asks for the person's own password again before something is written into the record. `act` names it: `signing`. */
export async function confirmPassword(
  { auth }: Pick<HttpParts, 'auth'>,
  req: Request,
  who: Confirm,
  act: string,
): Promise<void> {
  const confirmed = await auth.confirm({ ...who, address: addressOf(req) });
  if (confirmed === 'right') return;
  if (confirmed === 'wrong')
    throw new Refusal('wrong-password', { detail: `${act} asks for your own password again; nothing was written` });
  throw new Refusal('too-many', {
    detail: `too many wrong passwords; wait, then try again`,
    retryAfter: confirmed.retryAfter,
  });
}
