import {
  generateRegistrationOptions,
  type RegistrationResponseJSON,
  verifyRegistrationResponse,
} from '@simplewebauthn/server';
import { decodeCredentialPublicKey } from '@simplewebauthn/server/helpers';
import type { NewPasskey } from '../../shared/protocol/passkeys.ts';
import {
  type Assertion,
  assertionFault,
  countOfUses,
  type Evidence,
  hostOf,
  type PasskeyKey,
  passkeyKeySchema,
  passkeyTrouble,
} from '../../shared/record/assertion.ts';
import { type Clock, isoTime, type Random } from '../ambient.ts';
import { nodeChecks } from '../record/signatures.ts';
import type { Passkey } from '../storage/passkeys.ts';
import type { Account, Records } from '../storage/ports.ts';

/** Whose passkeys, and in which session. */
export interface PasskeyOwner {
  readonly account: Account;
  readonly session: string;
}

/** What went wrong, in words. */
export interface PasskeyProblem {
  readonly problem: string;
}

/** Keys that devices keep for their owners, to sign gates with. */
export interface Passkeys {
  /** Options for the browser to make one at this address; kept until it answers. */
  options(
    owner: PasskeyOwner,
    origin: string,
  ): Promise<{ readonly options: { readonly challenge: string } } | PasskeyProblem>;
  register(owner: PasskeyOwner, made: NewPasskey, origin: string): Promise<Passkey | PasskeyProblem>;
  /** Those of an account that work at this address. */
  usable(account: string, origin: string): Promise<readonly Passkey[]>;
  /** What a row keeps of a passkey's answer to a challenge (hex), if that answer holds. */
  confirm(
    asked: { readonly account: string; readonly challenge: string; readonly origin: string },
    assertion: Assertion,
  ): Promise<{ readonly evidence: Evidence } | PasskeyProblem>;
}

/** Time to make one, ms. */
const LIFE = 5 * 60_000;
/** Algorithms a row can be verified by: EdDSA, ES256, RS256 (IANA COSE registry). */
const ALGORITHMS = [-8, -7, -257];

interface Waiting {
  readonly challenge: string;
  readonly until: number;
}
type Context = {
  readonly records: Records;
  readonly clock: Clock;
  readonly random: Random;
  readonly waiting: Map<string, Waiting>;
};

export function passkeys(records: Records, clock: Clock, random: Random): Passkeys {
  const context: Context = { records, clock, random, waiting: new Map() };
  return {
    options: (owner, origin) => options(context, owner, origin),
    register: (owner, made, origin) => register(context, { owner, made, origin }),
    usable: async (account, origin) => {
      if (passkeyTrouble(origin) !== null) return [];
      return (await records.passkeys(account)).filter(({ rpId }) => rpId === hostOf(origin));
    },
    confirm: (asked, assertion) => confirm(context, asked, assertion),
  };
}

async function options(
  { records, clock, random, waiting }: Context,
  { account, session }: PasskeyOwner,
  origin: string,
): Promise<{ readonly options: { readonly challenge: string } } | PasskeyProblem> {
  const problem = passkeyTrouble(origin);
  if (problem !== null) return { problem };
  for (const [key, { until }] of waiting) if (until <= clock()) waiting.delete(key);
  const own = await records.passkeys(account.id);
  const made = await generateRegistrationOptions({
    rpName: 'Slipjoint',
    rpID: hostOf(origin),
    userName: account.login,
    userID: Uint8Array.from(Buffer.from(account.id)),
    userDisplayName: account.name,
    challenge: Uint8Array.from(random(32)),
    attestationType: 'none',
    authenticatorSelection: { residentKey: 'discouraged', userVerification: 'required' },
    supportedAlgorithmIDs: ALGORITHMS,
    excludeCredentials: own.map(({ id }) => ({ id })),
  });
  waiting.set(session, { challenge: made.challenge, until: clock() + LIFE });
  return { options: made };
}

async function register(
  { records, clock, waiting }: Context,
  { owner, made, origin }: { owner: PasskeyOwner; made: NewPasskey; origin: string },
): Promise<Passkey | PasskeyProblem> {
  const asked = waiting.get(owner.session);
  waiting.delete(owner.session);
  if (!asked || asked.until <= clock()) return { problem: 'nobody asked for one in the last minutes; begin again' };
  const rpId = hostOf(origin);
  const found = await credentialIn(made, { challenge: asked.challenge, origin, rpId });
  if ('problem' in found) return found;
  const passkey: Passkey = {
    ...{ id: found.id, accountId: owner.account.id, name: made.name, rpId, key: JSON.stringify(found.key) },
    ...{ counter: found.counter, createdAt: isoTime(clock()), lastUsedAt: null },
  };
  return (await records.addPasskey(passkey)) === 'added' ? passkey : { problem: 'this passkey is registered already' };
}

type Credential = { readonly id: string; readonly key: PasskeyKey; readonly counter: number };

async function credentialIn(
  { response }: NewPasskey,
  { challenge, origin, rpId }: { challenge: string; origin: string; rpId: string },
): Promise<Credential | PasskeyProblem> {
  try {
    const { verified, registrationInfo } = await verifyRegistrationResponse({
      // The library looks at each member before it uses it, and throws in words.
      response: response as unknown as RegistrationResponseJSON,
      expectedChallenge: challenge,
      expectedOrigin: origin,
      expectedRPID: rpId,
      requireUserVerification: true,
      supportedAlgorithmIDs: ALGORITHMS,
    });
    if (!verified) return { problem: 'what the device answered does not hold' };
    const { id, publicKey, counter } = registrationInfo.credential;
    const key = keyOf(publicKey);
    return key ? { id, key, counter } : { problem: 'its key is of a kind that is not known here' };
  } catch (error) {
    return {
      problem: `what the device answered does not hold: ${error instanceof Error ? error.message : String(error)}`,
    };
  }
}

/** A public key as devices write it (COSE, RFC 8152, 13) as a JWK. */
export function keyOf(cose: Uint8Array): PasskeyKey | undefined {
  const members: ReadonlyMap<number, unknown> = new Map([
    ...(decodeCredentialPublicKey(Uint8Array.from(cose)) as unknown as Map<number, unknown>),
  ]);
  const text = (label: number): string => {
    const value = members.get(label);
    return value instanceof Uint8Array ? Buffer.from(value).toString('base64url') : '';
  };
  switch (members.get(3)) {
    case -7:
      return passkeyKeySchema.safeParse({ alg: 'ES256', kty: 'EC', crv: 'P-256', x: text(-2), y: text(-3) }).data;
    case -257:
      return passkeyKeySchema.safeParse({ alg: 'RS256', kty: 'RSA', n: text(-1), e: text(-2) }).data;
    case -8:
      return passkeyKeySchema.safeParse({ alg: 'EdDSA', kty: 'OKP', crv: 'Ed25519', x: text(-2) }).data;
    default:
      return undefined;
  }
}

async function confirm(
  { records, clock }: Context,
  { account, challenge, origin }: { account: string; challenge: string; origin: string },
  assertion: Assertion,
): Promise<{ readonly evidence: Evidence } | PasskeyProblem> {
  const passkey = await records.passkey(assertion.credential);
  if (!passkey || passkey.accountId !== account) return { problem: 'it is not one of yours, or was removed' };
  const key = passkeyKeySchema.parse(JSON.parse(passkey.key));
  const evidence: Evidence = { ...assertion, key, origin, rpId: passkey.rpId };
  const fault = assertionFault({ challenge, evidence }, nodeChecks);
  if (fault !== null) return { problem: fault };
  const counter = countOfUses(assertion.authenticatorData);
  // A device that counts and falls back is another device with the same key (Web Authentication, level 2, 6.1.1).
  if (counter <= passkey.counter && (counter > 0 || passkey.counter > 0))
    return { problem: 'its counter has not moved on: it may have been copied; remove it and register another' };
  await records.touchPasskey(passkey.id, { counter, at: isoTime(clock()) });
  return { evidence };
}
