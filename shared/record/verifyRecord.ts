import { hex } from '../spec/digest.ts';
import { headText, type SignedHead, shortHead } from './head.ts';
import { rootOf } from './merkle.ts';
import type { RecordFile } from './recordFile.ts';
import type { Sha256 } from './sha256.ts';
import {
  type FaultKind,
  type Reached,
  type RecordFault,
  type RowChecks,
  recordStart,
  verifyRow,
} from './verifyRows.ts';

/** True if `signature` (hex) is the Ed25519 signature of `text` (UTF-8) by the public key (hex). Must not throw. */
export type SignatureHolds = (signed: {
  readonly key: string;
  readonly text: string;
  readonly signature: string;
}) => boolean;

/** What the verifier brings along. */
export interface Trust extends RowChecks {
  readonly signatureHolds: SignatureHolds;
  /** Public keys (hex) he got elsewhere; every head must be by one of them. None: any key will do, as long as it fits. */
  readonly keys?: readonly string[];
  /** Beginning of a root (hex digits) that was written down elsewhere: the record must once have been in that state. */
  readonly head?: string;
  /** A faster SHA-256 than the one that runs everywhere. */
  readonly sha256?: Sha256;
}

/** What a whole record was found to be. */
export interface RecordSound {
  readonly ok: true;
  readonly rows: number;
  /** Of all rows; null when there are none. */
  readonly head: SignedHead | null;
  /** Where it ended: verifying the same record with more rows may go on from here. */
  readonly reached: Reached;
}

/**
 * Verifies a whole record: each row follows the one before it and is as its hash says; each head is signed by its key and names
 * exactly the rows that are there; the last row is under a head of the file's key. Names the first fault in the order of the rows. Never throws.
 */
export function verifyRecord(record: RecordFile, trust: Trust, from: Reached = recordStart): RecordSound | RecordFault {
  const { project, rows } = record;
  const heads = bySize(record.heads.filter(({ size }) => size > from.peaks.size));
  let reached = from;
  let met = trust.head === undefined;
  for (let index = from.peaks.size; index < rows.length; index++) {
    const next = verifyRow({ project, rows, index }, reached, trust);
    if (!next.ok) return next;
    reached = next;
    for (const head of heads.get(index + 1) ?? []) {
      const fault = headFault(head, { record, trust, reached });
      if (fault) return fault;
    }
    met ||= hex(rootOf(reached.peaks)).startsWith(trust.head ?? '');
  }
  return beyond(record, trust, reached) ?? ending(record, reached, met ? undefined : trust.head);
}

function bySize(heads: readonly SignedHead[]): ReadonlyMap<number, readonly SignedHead[]> {
  const out = new Map<number, SignedHead[]>();
  for (const head of heads) {
    const same = out.get(head.size);
    if (same) same.push(head);
    else out.set(head.size, [head]);
  }
  return out;
}

interface At {
  readonly record: RecordFile;
  readonly trust: Trust;
  readonly reached: Reached;
}

const faultAt = (row: number, kind: FaultKind, reason: string): RecordFault => ({ ok: false, kind, row, reason });

/** Faults of a head in itself, whatever the rows are. */
function signingFault(head: SignedHead, { record, trust }: Omit<At, 'reached'>): RecordFault | null {
  const { size, key, signature } = head;
  if (head.project !== record.project)
    return faultAt(size, 'other-log', `the head of ${size} rows is of another project's record`);
  if (trust.keys && !trust.keys.includes(key))
    return faultAt(size, 'other-key', `the head of ${size} rows: expected key ${trust.keys.join(' or ')}, got ${key}`);
  if (!trust.signatureHolds({ key, text: headText(head), signature }))
    return faultAt(size, 'bad-signature', `the head of ${size} rows: its signature is not that of its key`);
  return null;
}

function headFault(head: SignedHead, at: At): RecordFault | null {
  const own = signingFault(head, at);
  if (own) return own;
  const root = hex(rootOf(at.reached.peaks));
  if (head.root === root && head.last === at.reached.last) return null;
  return faultAt(
    head.size,
    'changed',
    `row ${head.size}: the head signed over ${head.size} rows is ${shortHead(head.root)}, these rows give ${shortHead(root)}`,
  );
}

/** Heads over more rows than there are. */
function beyond(record: RecordFile, trust: Trust, { peaks }: Reached): RecordFault | null {
  for (const head of record.heads.filter(({ size }) => size > peaks.size)) {
    const own = signingFault(head, { record, trust });
    if (own) return own;
    const reason = `row ${peaks.size + 1} is missing: a head was signed over ${head.size} rows, there are ${peaks.size}`;
    return faultAt(peaks.size + 1, 'dropped', reason);
  }
  return null;
}

function ending(record: RecordFile, reached: Reached, unmet: string | undefined): RecordSound | RecordFault {
  const { size } = reached.peaks;
  const head = record.heads.find((one) => one.size === size && one.key === record.key) ?? null;
  if (size > 0 && !head) {
    const covered = record.heads.reduce((most, one) => Math.max(most, one.size), 0);
    return faultAt(
      Math.min(covered + 1, size),
      'unsigned',
      `expected a head over all ${size} rows by the key of the file, the last one there is over ${covered}`,
    );
  }
  if (unmet !== undefined)
    return faultAt(
      size + 1,
      'unknown-head',
      `none of the ${size} states of this record has the head ${shortHead(unmet)}`,
    );
  return { ok: true, rows: size, head, reached };
}
