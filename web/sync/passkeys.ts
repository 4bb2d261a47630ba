import { startAuthentication, startRegistration } from '@simplewebauthn/browser';
import { z } from 'zod';
import {
  type PasskeyView,
  passkeyListSchema,
  passkeyOptionsSchema,
  passkeySchema,
} from '../../shared/protocol/passkeys.ts';
import type { OfferView, SignRequest } from '../../shared/protocol/signing.ts';
import { call } from './api.ts';

/** One's passkeys, for whatever address. */
export async function ownPasskeys(): Promise<readonly PasskeyView[]> {
  return (await call('GET', '/api/account/passkeys', { schema: passkeyListSchema })).passkeys;
}

/** Has the device make a passkey and the server keep its public half. */
export async function registerPasskey(name: string, password: string): Promise<void> {
  const path = '/api/account/passkeys';
  const options = await call('POST', `${path}/challenge`, { body: { password }, schema: passkeyOptionsSchema });
  const response = await startRegistration({
    optionsJSON: options as unknown as Parameters<typeof startRegistration>[0]['optionsJSON'],
  });
  await call('POST', path, { body: { name, response }, schema: passkeySchema });
}

export async function removePasskey(id: string): Promise<void> {
  await call('DELETE', `/api/account/passkeys/${id}`, { schema: z.null() });
}

/** Has the device sign what was read. */
export async function passkeySigns(offer: OfferView): Promise<NonNullable<SignRequest['assertion']>> {
  const { id, response } = await startAuthentication({
    optionsJSON: {
      challenge: base64url(offer.sha256),
      rpId: offer.rpId,
      allowCredentials: offer.credentials.map((one) => ({ id: one, type: 'public-key' })),
      userVerification: 'required',
    },
  });
  const { clientDataJSON, authenticatorData, signature } = response;
  return { credential: id, clientData: clientDataJSON, authenticatorData, signature };
}

function base64url(hex: string): string {
  const bytes = hex.match(/../g)?.map((pair) => String.fromCharCode(Number.parseInt(pair, 16))) ?? [];
  return btoa(bytes.join('')).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}
