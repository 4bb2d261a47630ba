import { createPrivateKey, createPublicKey, generateKeyPairSync, type KeyObject, sign } from 'node:crypto';
import { chmod, open, readFile, rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import { type Head, headText, type SignedHead } from '../../shared/record/head.ts';
import { syncFolder } from '../storage/durable-file.ts';

/** The server's key: signs heads of records and is seen by nobody. */
export interface RecordKey {
  /** Ed25519 public key, 64 hex digits. */
  readonly publicKey: string;
  sign(head: Head): SignedHead;
}

/** Nobody but the account the server runs under. */
const PRIVATE = 0o600;

/** The key kept in a file, made when there is none. Throws, without a word of its content, when the file holds something else. */
export async function openRecordKey(file: string): Promise<RecordKey> {
  const kept = await readFile(file, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return null;
    throw error;
  });
  if (kept === null) return keyOf(await makeKey(file));
  // A copy from a backup may have come back readable for all.
  await chmod(file, PRIVATE);
  return keyOf(readKey(kept, file));
}

/** Written whole under another name first: a power cut leaves the whole key or none, never a piece of one. */
async function makeKey(file: string): Promise<KeyObject> {
  const { privateKey } = generateKeyPairSync('ed25519');
  const unfinished = `${file}.new`;
  await rm(unfinished, { force: true });
  const handle = await open(unfinished, 'wx', PRIVATE);
  try {
    await handle.writeFile(privateKey.export({ type: 'pkcs8', format: 'pem' }));
    await handle.sync();
  } finally {
    await handle.close();
  }
  await rename(unfinished, file);
  await syncFolder(dirname(file));
  return privateKey;
}

function readKey(text: string, file: string): KeyObject {
  const key = privateKeyIn(text);
  if (key?.asymmetricKeyType === 'ed25519') return key;
  throw new Error(
    `${file}: expected an Ed25519 private key (PEM), got ${key?.asymmetricKeyType ?? 'something unreadable'}; ` +
      'bring it back from a backup, or move it away to have a new key made',
  );
}

function privateKeyIn(text: string): KeyObject | null {
  try {
    return createPrivateKey(text);
  } catch {
    return null;
  }
}

function keyOf(privateKey: KeyObject): RecordKey {
  const { x } = createPublicKey(privateKey).export({ format: 'jwk' });
  if (x === undefined) throw new Error('the record key has no public part');
  const publicKey = Buffer.from(x, 'base64url').toString('hex');
  return {
    publicKey,
    sign: (head) => ({
      ...head,
      key: publicKey,
      signature: sign(null, Buffer.from(headText(head)), privateKey).toString('hex'),
    }),
  };
}
