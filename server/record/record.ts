import { consistencyProof } from '../../shared/record/consistency.ts';
import type { SignedHead } from '../../shared/record/head.ts';
import { inclusionProof, rootOf } from '../../shared/record/merkle.ts';
import type { GrowthProof, RowProof } from '../../shared/record/proofFile.ts';
import type { RecordFile } from '../../shared/record/recordFile.ts';
import type { Reached } from '../../shared/record/verifyRows.ts';
import { hex } from '../../shared/spec/digest.ts';
import { type Clock, isoTime } from '../ambient.ts';
import type { Records } from '../storage/ports.ts';
import { recordRow, verifyChain } from './chain.ts';
import type { RecordKey } from './recordKey.ts';
import { nodeSha256 } from './signatures.ts';

/** What is needed to write out a record. */
export interface RecordParts {
  readonly records: Records;
  readonly key: RecordKey;
  readonly clock: Clock;
}

/** Signs the head of the rows that were reached; there is at least one. */
export function signedHead(project: string, { last, peaks }: Reached, parts: Omit<RecordParts, 'records'>): SignedHead {
  return parts.key.sign({ project, size: peaks.size, root: hex(rootOf(peaks)), last, at: isoTime(parts.clock()) });
}

/**
 * The whole record of a project. Its last head covers every row and is by the key of now: rows older than heads, and a server whose
 * key was lost, get one here. A damaged record gets none: it is handed out as it is, and fails.
 */
export async function recordFile(project: string, parts: RecordParts): Promise<RecordFile> {
  const signOffs = await parts.records.signOffs(project);
  // Read after the rows, heads of rows added in between are left out: each row came with its head.
  const kept = (await parts.records.heads(project)).filter(({ size }) => size <= signOffs.length);
  const chain = verifyChain(project, signOffs);
  const whole = kept.some(({ size, key }) => size === signOffs.length && key === parts.key.publicKey);
  const more = chain.ok && chain.rows > 0 && !whole ? [signedHead(project, chain.reached, parts)] : [];
  return {
    format: 'slipjoint-record',
    version: 1,
    project,
    key: parts.key.publicKey,
    rows: signOffs.map(recordRow),
    heads: [...kept, ...more],
  };
}

/** The head of a project's record as it stands; null while nothing is signed. */
export async function recordHead(project: string, parts: RecordParts): Promise<SignedHead | null> {
  const { rows, heads, key } = await recordFile(project, parts);
  return heads.find((head) => head.size === rows.length && head.key === key) ?? null;
}

interface Under {
  readonly record: RecordFile;
  readonly head: SignedHead;
  readonly leaves: readonly Uint8Array[];
}

/** A record and the head over all of it; undefined for one that is empty or damaged. */
async function under(project: string, parts: RecordParts): Promise<Under | undefined> {
  const record = await recordFile(project, parts);
  const head = record.heads.find(({ size, key }) => size === record.rows.length && key === record.key);
  return head && { record, head, leaves: record.rows.map(({ hash }) => Buffer.from(hash, 'hex')) };
}

/** One row with the proof that it stands in the record; undefined when there is no such row. */
export async function rowProof(project: string, seq: number, parts: RecordParts): Promise<RowProof | undefined> {
  const whole = await under(project, parts);
  const row = whole?.record.rows[seq - 1];
  const proof = whole && inclusionProof(whole.leaves, seq - 1);
  if (!whole || !row || !proof) return undefined;
  return { format: 'slipjoint-row-proof', version: 1, project, row, proof: proof.map(hex), head: whole.head };
}

/** That the record only grew since it had so many rows; undefined when it never had. */
export async function growthProof(
  project: string,
  since: number,
  parts: RecordParts,
): Promise<GrowthProof | undefined> {
  const whole = await under(project, parts);
  const proof = whole && consistencyProof(whole.leaves, since, nodeSha256);
  if (!whole || !proof) return undefined;
  return { format: 'slipjoint-growth-proof', version: 1, project, since, proof: proof.map(hex), head: whole.head };
}
