import { decodeUtf8 } from 'lib0/string';
import { z } from 'zod';
import { hex } from '../spec/digest.ts';
import type { Sha256 } from './sha256.ts';

// Assertions of passkeys as Web Authentication, level 2, sections 6.1, 5.8.1 and 7.2 describe them (from memory); a software
// authenticator, Chromium's and another implementation pin it in the tests.

/** Bytes in base64url without padding (RFC 4648, 5). */
const bytesText = z
  .string()
  .max(4_096)
  .regex(/^[A-Za-z0-9_-]+$/, 'base64url');

/** Public key of a passkey: a JWK (RFC 7517, RFC 8037) with the algorithm it signs by. */
export const passkeyKeySchema = z.discriminatedUnion('alg', [
  z.strictObject({
    alg: z.literal('ES256'),
    kty: z.literal('EC'),
    crv: z.literal('P-256'),
    x: bytesText,
    y: bytesText,
  }),
  z.strictObject({ alg: z.literal('RS256'), kty: z.literal('RSA'), n: bytesText, e: bytesText }),
  z.strictObject({ alg: z.literal('EdDSA'), kty: z.literal('OKP'), crv: z.literal('Ed25519'), x: bytesText }),
]);
/** See {@link passkeyKeySchema}. */
export type PasskeyKey = z.infer<typeof passkeyKeySchema>;

/** What a device answered when its owner signed; all bytes are base64url. */
export const assertionSchema = z.strictObject({
  /** Credential id. */
  credential: bytesText,
  clientData: bytesText,
  authenticatorData: bytesText,
  signature: bytesText,
});
/** See {@link assertionSchema}. */
export type Assertion = z.infer<typeof assertionSchema>;

/** What stays in a row beside the statement: enough to see without a server that this passkey signed exactly that statement. */
export const evidenceSchema = assertionSchema.extend({ key: passkeyKeySchema, origin: z.string(), rpId: z.string() });
/** See {@link evidenceSchema}. */
export type Evidence = z.infer<typeof evidenceSchema>;

/** True if `signature` over `signed` is by the public key. Must not throw. */
export type KeySigned = (what: {
  readonly key: PasskeyKey;
  readonly signed: Uint8Array;
  readonly signature: Uint8Array;
}) => boolean;

/** Bits of the flags in authenticator data: somebody was there, and was verified by finger, face or code. */
const [PRESENT, VERIFIED] = [1, 4];
/** Hash of the host, flags, counter. */
const LEAST = 32 + 1 + 4;

/** What to hold an assertion against. */
export interface Asserted {
  /** SHA-256 of what was signed, hex: the challenge. */
  readonly challenge: string;
  readonly evidence: Evidence;
}

/** In words, why an assertion does not show that its key signed the challenge; null when it does. Never throws. */
export function assertionFault(
  { challenge, evidence }: Asserted,
  { sha256, keySigned }: { readonly sha256: Sha256; readonly keySigned: KeySigned | undefined },
): string | null {
  const [clientData, data] = [bytesOf(evidence.clientData), bytesOf(evidence.authenticatorData)];
  const own = clientDataFault(decodeText(clientData), challenge, evidence.origin);
  if (own !== null) return own;
  if (!servesHost(evidence)) return `its origin ${evidence.origin} is not one of ${evidence.rpId}`;
  if (data.length < LEAST) return `its authenticator data has ${data.length} bytes, expected at least ${LEAST}`;
  if (hex(data.subarray(0, 32)) !== sha256.ofText(evidence.rpId))
    return `it was made for another host than ${evidence.rpId}`;
  const flags = data[32] ?? 0;
  if ((flags & PRESENT) === 0 || (flags & VERIFIED) === 0) return 'the device did not verify who used it';
  if (!keySigned) return 'nothing here can check the signatures of passkeys';
  const signed = new Uint8Array([...data, ...sha256.ofBytes(clientData)]);
  return keySigned({ key: evidence.key, signed, signature: bytesOf(evidence.signature) })
    ? null
    : 'its signature is not by its key over this statement';
}

/** Uses of the key so far as the device counts them; 0 for devices that do not. */
export function countOfUses(authenticatorData: string): number {
  const data = bytesOf(authenticatorData);
  return [33, 34, 35, 36].reduce((sum, at) => sum * 256 + (data[at] ?? 0), 0);
}

function clientDataFault(text: string, challenge: string, origin: string): string | null {
  const said = parsed(text);
  if (said === null) return 'what the browser signed cannot be read';
  if (said.type !== 'webauthn.get') return `expected an answer to signing, got ${said.type}`;
  if (hex(bytesOf(said.challenge)) !== challenge) return 'the passkey signed something else than this statement';
  if (said.origin !== origin) return `expected the origin ${origin}, got ${said.origin}`;
  return said.crossOrigin === true ? 'it was asked for from a page within another page' : null;
}

const clientDataSchema = z.object({
  type: z.string(),
  challenge: z.string(),
  origin: z.string(),
  crossOrigin: z.boolean().optional(),
});

function parsed(text: string): z.infer<typeof clientDataSchema> | null {
  try {
    return clientDataSchema.safeParse(JSON.parse(text)).data ?? null;
  } catch {
    return null;
  }
}

function decodeText(bytes: Uint8Array): string {
  try {
    return decodeUtf8(bytes);
  } catch {
    return '';
  }
}

function servesHost({ origin, rpId }: Evidence): boolean {
  const host = /^https?:\/\/([^/:]+)(:\d+)?$/.exec(origin)?.[1];
  return host !== undefined && (host === rpId || host.endsWith(`.${rpId}`));
}

/**
 * Why passkeys cannot be used at an address, in words; null when they can. Browsers offer them to host names only, over TLS or on
 * the own machine (Web Authentication, level 2, 5.1.3).
 */
export function passkeyTrouble(origin: string): string | null {
  const [, scheme, host = ''] = /^(https?):\/\/([^/:]+|\[[^\]]*\])(?::\d+)?$/.exec(origin) ?? [];
  if (host.startsWith('[') || /^[\d.]+$/.test(host) || host === '')
    return `passkeys need a host name, and this page is open at ${host || origin}`;
  if (scheme === 'https' || host === 'localhost' || host.endsWith('.localhost')) return null;
  return 'passkeys need https, and this page is open over http';
}

/** Host name a passkey of this origin is made for. */
export function hostOf(origin: string): string {
  return /^https?:\/\/([^/:]+)/.exec(origin)?.[1] ?? '';
}

/** Bytes of base64url text; what is none of its letters ends it. */
export function bytesOf(text: string): Uint8Array {
  const out = new Uint8Array(Math.floor((text.length * 3) / 4));
  let [held, bits, at] = [0, 0, 0];
  for (const letter of text) {
    const value = LETTERS.indexOf(letter);
    if (value < 0) break;
    held = ((held << 6) | value) & 0xffff;
    bits += 6;
    if (bits >= 8) {
      bits -= 8;
      out[at++] = (held >> bits) & 0xff;
    }
  }
  return out.subarray(0, at);
}

const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';
