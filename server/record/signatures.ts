import { createPublicKey, hash, type KeyObject, verify } from 'node:crypto';
import type { KeySigned } from '../../shared/record/assertion.ts';
import type { Sha256 } from '../../shared/record/sha256.ts';
import type { SignatureHolds } from '../../shared/record/verifyRecord.ts';
import { bytesOfHex } from '../../shared/record/verifyRows.ts';

/** Making a key of its digits takes about as long as verifying with it, and a record's heads are mostly by one key. */
let latest: { readonly digits: string; readonly key: KeyObject } | undefined;

function publicKey(digits: string): KeyObject {
  if (latest?.digits === digits) return latest.key;
  const x = Buffer.from(digits, 'hex').toString('base64url');
  const key = createPublicKey({ key: { kty: 'OKP', crv: 'Ed25519', x }, format: 'jwk' });
  latest = { digits, key };
  return key;
}

/** As they are written; Node would read other spellings of the same bytes, and a changed file would pass. */
const spelling = { key: /^[0-9a-f]{64}$/, signature: /^[0-9a-f]{128}$/ } as const;

/** Ed25519 (RFC 8032) by Node's own crypto; what is no key or no signature holds nothing. */
export const signatureHolds: SignatureHolds = ({ key, text, signature }) => {
  try {
    const spelt = spelling.key.test(key) && spelling.signature.test(signature);
    return spelt && verify(null, Buffer.from(text), publicKey(key), Buffer.from(signature, 'hex'));
  } catch {
    return false;
  }
};

/** SHA-256 in one call: half as long as by way of an object that has to be collected again. */
export const nodeSha256: Sha256 = {
  ofText: (text) => hash('sha256', text, 'hex'),
  // A buffer from outside the engine's own memory takes longer to make than the hash.
  ofBytes: (bytes) => bytesOfHex(hash('sha256', bytes, 'hex')),
};

/** Signatures of passkeys: ES256, RS256 and EdDSA (RFC 8152, RFC 8812) by Node's own crypto. What is no key holds nothing. */
export const keySigned: KeySigned = ({ key: { alg, ...jwk }, signed, signature }) => {
  try {
    const key = createPublicKey({ key: { ...jwk }, format: 'jwk' });
    return verify(alg === 'EdDSA' ? null : 'sha256', signed, key, signature);
  } catch {
    return false;
  }
};

/** All that Node brings to the verification of rows. */
export const nodeChecks = { sha256: nodeSha256, keySigned } as const;
