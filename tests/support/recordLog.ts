import { createPrivateKey, createPublicKey, sign } from 'node:crypto';
import { gateDigest } from '../../shared/gates/coverage.ts';
import { type Head, headText, type SignedHead } from '../../shared/record/head.ts';
import { noLeaves, rootOf, withLeaf } from '../../shared/record/merkle.ts';
import type { RecordFile, RecordRow } from '../../shared/record/recordFile.ts';
import { CHAIN_START, rowHash, type SignatureV1, statementText } from '../../shared/record/statement.ts';
import { gateIds } from '../../shared/spec/gateId.ts';

/** Signs heads with the key of a 32-byte seed (hex), as RFC 8032 makes it. */
export interface HeadSigner {
  /** Public key, hex. */
  readonly key: string;
  sign(head: Head): SignedHead;
}

/** DER of a PKCS 8 Ed25519 private key up to the seed (RFC 8410, section 7). */
const DER = '302e020100300506032b657004220420';

export function headSigner(seed: string): HeadSigner {
  const privateKey = createPrivateKey({ key: Buffer.from(DER + seed, 'hex'), format: 'der', type: 'pkcs8' });
  const key = Buffer.from(createPublicKey(privateKey).export({ format: 'jwk' }).x ?? '', 'base64url').toString('hex');
  return {
    key,
    sign: (head) => ({ ...head, key, signature: sign(null, Buffer.from(headText(head)), privateKey).toString('hex') }),
  };
}

/** One row on top of another: a statement with numbers, escapes and letters beyond ASCII in it. */
export function logRow(project: string, seq: number, previous: string): RecordRow {
  const gate = gateIds[seq % gateIds.length] ?? 'scan';
  const facts = {
    'stud.torque': 18 + (seq % 50) / 7,
    'tube.alloy': '625',
    'ticks.scan.all.note': `"Naht" ${seq} geprüft`,
  };
  const statement: SignatureV1 = {
    ...{ version: 1, project, gate, meaning: 'released', ruleSet: 3, facts, files: [], previous },
    signer: { account: `account-${seq % 7}`, name: 'Name of ann', role: 'lead', confirmedBy: 'password' },
    at: new Date(1_770_000_000_000 + seq * 1000).toISOString(),
    digest: gateDigest(gate, facts, 3),
    units: { 'stud.torque': 'N·m' },
    verdicts: [{ key: 'stud-torque/s1', status: 'pass', digest: 'a'.repeat(64) }],
    nonce: `nonce-${seq}`,
  };
  // One piece, as it comes out of a file: text just put together keeps all its parts, which a million rows have no room for.
  const text = Buffer.from(statementText(statement)).toString();
  return { seq, statement: text, hash: rowHash(previous, text) };
}

export interface LogOptions {
  readonly rows: number;
  readonly signer: HeadSigner;
  /** After which rows there is a head; the last row always has one. */
  readonly headAt: (seq: number) => boolean;
  readonly project?: string;
}

/** A head over all of these rows. */
export function recordHeads(project: string, rows: readonly RecordRow[], signer: HeadSigner): SignedHead[] {
  const peaks = rows.reduce((sum, { hash }) => withLeaf(sum, Buffer.from(hash, 'hex')), noLeaves);
  const root = Buffer.from(rootOf(peaks)).toString('hex');
  const last = rows.at(-1)?.hash ?? CHAIN_START;
  return [signer.sign({ project, size: rows.length, root, last, at: '2026-01-01T00:00:00.000Z' })];
}

/** A whole and sound record. */
export function recordLog({ rows: count, signer, headAt, project = 'p' }: LogOptions): RecordFile {
  const rows: RecordRow[] = [];
  const heads: SignedHead[] = [];
  let peaks = noLeaves;
  let last = CHAIN_START;
  for (let seq = 1; seq <= count; seq++) {
    const row = logRow(project, seq, last);
    rows.push(row);
    last = row.hash;
    peaks = withLeaf(peaks, Buffer.from(last, 'hex'));
    if (!headAt(seq) && seq !== count) continue;
    const root = Buffer.from(rootOf(peaks)).toString('hex');
    heads.push(signer.sign({ project, size: seq, root, last, at: '2026-01-01T00:00:00.000Z' }));
  }
  return { format: 'slipjoint-record', version: 1, project, key: signer.key, rows, heads };
}
