import { createHash, generateKeyPairSync, type KeyObject, randomBytes, sign } from 'node:crypto';
import type { Assertion } from '../../shared/record/assertion.ts';

/** Which signatures a key makes. */
export type SoftAlgorithm = 'ES256' | 'RS256' | 'EdDSA';

/** A device with one passkey, made with node:crypto from the text of Web Authentication, level 2 (6.1, 6.5.4 and 7). */
export interface SoftAuthenticator {
  readonly credential: string;
  /** What a browser answers to a request for a new passkey. */
  registration(challenge: string, over?: Partial<Spoken>): RegistrationAnswer;
  /** What a browser answers to a challenge (hex). */
  assertion(challenge: string, over?: Partial<Spoken>): Assertion;
}

export interface RegistrationAnswer {
  readonly id: string;
  readonly rawId: string;
  readonly type: 'public-key';
  readonly clientExtensionResults: Record<string, never>;
  readonly response: { readonly clientDataJSON: string; readonly attestationObject: string };
}

/** What can be wrong with what a device says. */
interface Spoken {
  readonly origin: string;
  readonly rpId: string;
  readonly type: string;
  readonly flags: number;
  readonly counter: number;
  readonly crossOrigin: boolean;
}

const text = (bytes: Uint8Array): string => Buffer.from(bytes).toString('base64url');
const sha = (data: string | Uint8Array): Buffer => createHash('sha256').update(data).digest();
const from = (value: string | undefined): Buffer => Buffer.from(value ?? '', 'base64url');

// The little of CBOR (RFC 8949) that a passkey is written in.
const head = (major: number, value: number): Buffer =>
  value < 24
    ? Buffer.from([(major << 5) | value])
    : value < 256
      ? Buffer.from([(major << 5) | 24, value])
      : Buffer.from([(major << 5) | 25, value >> 8, value & 255]);
const int = (value: number): Buffer => (value < 0 ? head(1, -1 - value) : head(0, value));
const bytes = (value: Uint8Array): Buffer => Buffer.concat([head(2, value.length), value]);
const word = (value: string): Buffer => Buffer.concat([head(3, value.length), Buffer.from(value)]);
const map = (pairs: readonly (readonly [Buffer, Buffer])[]): Buffer =>
  Buffer.concat([head(5, pairs.length), ...pairs.flat()]);

function pair(alg: SoftAlgorithm): { readonly privateKey: KeyObject; readonly cose: Buffer } {
  if (alg === 'ES256') {
    const { publicKey, privateKey } = generateKeyPairSync('ec', { namedCurve: 'P-256' });
    const { x, y } = publicKey.export({ format: 'jwk' });
    const entries = [
      [int(1), int(2)],
      [int(3), int(-7)],
      [int(-1), int(1)],
      [int(-2), bytes(from(x))],
      [int(-3), bytes(from(y))],
    ] as const;
    return { privateKey, cose: map(entries) };
  }
  if (alg === 'RS256') {
    const { publicKey, privateKey } = generateKeyPairSync('rsa', { modulusLength: 2048 });
    const { n, e } = publicKey.export({ format: 'jwk' });
    return {
      privateKey,
      cose: map([
        [int(1), int(3)],
        [int(3), int(-257)],
        [int(-1), bytes(from(n))],
        [int(-2), bytes(from(e))],
      ]),
    };
  }
  const { publicKey, privateKey } = generateKeyPairSync('ed25519');
  const { x } = publicKey.export({ format: 'jwk' });
  return {
    privateKey,
    cose: map([
      [int(1), int(1)],
      [int(3), int(-8)],
      [int(-1), int(6)],
      [int(-2), bytes(from(x))],
    ]),
  };
}

/** User present and verified. */
const FLAGS = 0b101;
/** Attested credential data follows. */
const ATTESTED = 0b100_0000;

/** A new device for an address such as http://localhost:4370. */
export function softAuthenticator(origin: string, alg: SoftAlgorithm = 'ES256'): SoftAuthenticator {
  const id = randomBytes(32);
  const { privateKey, cose } = pair(alg);
  const usual = { origin, rpId: new URL(origin).hostname, flags: FLAGS, crossOrigin: false };
  let count = 0;
  const said = (type: string, challenge: string, over: Partial<Spoken>): Buffer => {
    const { origin: at, crossOrigin } = { ...usual, ...over };
    return Buffer.from(JSON.stringify({ type: over.type ?? type, challenge, origin: at, crossOrigin }));
  };
  const data = ({ rpId, flags, counter = ++count }: { rpId: string; flags: number; counter?: number }): Buffer => {
    const counted = Buffer.alloc(4);
    counted.writeUInt32BE(counter);
    return Buffer.concat([sha(rpId), Buffer.from([flags]), counted]);
  };
  return {
    credential: text(id),
    registration: (challenge, over = {}) => {
      const { rpId, flags } = { ...usual, ...over };
      const length = Buffer.from([id.length >> 8, id.length & 255]);
      const plain = data({ rpId, flags: flags | ATTESTED, counter: 0 });
      const authData = Buffer.concat([plain, Buffer.alloc(16), length, id, cose]);
      const attestation = map([
        [word('fmt'), word('none')],
        [word('attStmt'), map([])],
        [word('authData'), bytes(authData)],
      ]);
      const response = {
        clientDataJSON: text(said('webauthn.create', challenge, over)),
        attestationObject: text(attestation),
      };
      return { id: text(id), rawId: text(id), type: 'public-key', clientExtensionResults: {}, response };
    },
    assertion: (challenge, over = {}) => {
      const clientData = said('webauthn.get', text(Buffer.from(challenge, 'hex')), over);
      const authenticatorData = data({ ...usual, ...over });
      const signed = Buffer.concat([authenticatorData, sha(clientData)]);
      const signature = sign(alg === 'EdDSA' ? null : 'sha256', signed, privateKey);
      return {
        credential: text(id),
        clientData: text(clientData),
        authenticatorData: text(authenticatorData),
        signature: text(signature),
      };
    },
  };
}
