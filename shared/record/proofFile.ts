import { z } from 'zod';
import { hex } from '../spec/digest.ts';
import { growthHolds } from './consistency.ts';
import { headText, hexOf32, type SignedHead, shortHead, signedHeadSchema } from './head.ts';
import { rootByProof } from './merkle.ts';
import { recordRowSchema } from './recordFile.ts';
import { digestHolds, readCanonical, rowHash } from './statement.ts';
import type { Trust } from './verifyRecord.ts';
import { bytesOfHex, confirmationFault, type FaultKind, type RecordFault } from './verifyRows.ts';

/** Answer of GET /api/projects/:id/record/proof/:seq: one row, and that it stands in the record a head speaks of. */
export const rowProofSchema = z.strictObject({
  format: z.literal('slipjoint-row-proof'),
  version: z.literal(1),
  project: z.string(),
  row: recordRowSchema,
  /** Hashes beside the row's way up to the root, lowest first (RFC 6962, 2.1.1). */
  proof: z.array(hexOf32),
  head: signedHeadSchema,
});
/** See {@link rowProofSchema}. */
export type RowProof = z.infer<typeof rowProofSchema>;

/** Answer of GET /api/projects/:id/record/growth/:size: that a record only grew since it had so many rows. */
export const growthProofSchema = z.strictObject({
  format: z.literal('slipjoint-growth-proof'),
  version: z.literal(1),
  project: z.string(),
  /** Rows then. */
  since: z.number().int().positive(),
  /** See RFC 6962, 2.1.2. */
  proof: z.array(hexOf32),
  /** Of now. */
  head: signedHeadSchema,
});
/** See {@link growthProofSchema}. */
export type GrowthProof = z.infer<typeof growthProofSchema>;

/** What a proof was found to show. */
export type ProofReading = { readonly ok: true; readonly head: SignedHead } | RecordFault;

const no = (row: number, kind: FaultKind, reason: string): RecordFault => ({ ok: false, kind, row, reason });

/** Verifies one row with the head its proof leads to: content, place, head. Never throws. */
export function verifyRowProof({ project, row, proof, head }: RowProof, trust: Trust): ProofReading {
  const { seq } = row;
  const own = headFault(head, project, trust);
  if (own) return own;
  const statement = readCanonical(row.statement);
  if (statement === 'unreadable' || statement === 'not-canonical')
    return no(
      seq,
      'changed',
      `row ${seq}: its statement is ${statement === 'unreadable' ? 'unreadable' : 'not in canonical form'}`,
    );
  if (rowHash(statement.previous, row.statement, trust.sha256) !== row.hash)
    return no(seq, 'changed', `row ${seq}: its hash does not match its statement`);
  if (statement.project !== project) return no(seq, 'other-log', `row ${seq} is of another project's record`);
  if (!digestHolds(statement, row.statement, trust.sha256))
    return no(seq, 'changed', `row ${seq}: its digest does not match its facts`);
  const unconfirmed = confirmationFault(statement, trust);
  if (unconfirmed !== null) return no(seq, 'bad-signature', `row ${seq}: ${unconfirmed}`);
  const root = rootByProof({
    leaf: bytesOfHex(row.hash),
    index: seq - 1,
    size: head.size,
    proof: proof.map(bytesOfHex),
  });
  if (root && hex(root) === head.root) return { ok: true, head };
  return no(seq, 'put-in', `row ${seq}: it does not stand there in the record whose head is ${shortHead(head.root)}`);
}

/** Verifies that a record only grew since an older head was signed. Never throws. */
export function verifyGrowth(
  { project, since, proof, head }: GrowthProof,
  older: SignedHead,
  trust: Trust,
): ProofReading {
  const fault = headFault(head, project, trust) ?? headFault(older, project, trust);
  if (fault) return fault;
  if (older.size !== since)
    return no(older.size, 'unknown-head', `expected a proof since ${older.size} rows, got one since ${since}`);
  if (growthHolds({ before: older, after: head }, proof.map(bytesOfHex), trust.sha256)) return { ok: true, head };
  return no(
    older.size,
    'unknown-head',
    `the record of ${head.size} rows did not grow out of the one whose head was ${shortHead(older.root)}: something in its first ${older.size} rows is another`,
  );
}

/** Faults of a head by itself. */
function headFault(head: SignedHead, project: string, trust: Trust): RecordFault | null {
  const { size, key, signature } = head;
  if (head.project !== project) return no(size, 'other-log', `the head of ${size} rows is of another project's record`);
  if (trust.keys && !trust.keys.includes(key))
    return no(size, 'other-key', `the head of ${size} rows: expected key ${trust.keys.join(' or ')}, got ${key}`);
  if (!trust.signatureHolds({ key, text: headText(head), signature }))
    return no(size, 'bad-signature', `the head of ${size} rows: its signature is not that of its key`);
  if (trust.head !== undefined && !head.root.startsWith(trust.head))
    return no(size, 'unknown-head', `expected the head ${shortHead(trust.head)}, got ${shortHead(head.root)}`);
  return null;
}
