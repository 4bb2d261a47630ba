import { assertionFault, type KeySigned } from './assertion.ts';
import { contradiction, type Grounds, noGrounds, withGrounds } from './grounds.ts';
import { noLeaves, type Peaks, withLeaf } from './merkle.ts';
import type { RecordRow } from './recordFile.ts';
import { type Sha256, sha256 } from './sha256.ts';
import { CHAIN_START, challengeOf, digestHolds, readCanonical, rowHash, type Statement } from './statement.ts';

/**
 * What can be wrong with a record. changed: its content is not what was signed. dropped: rows are missing. swapped: it stands
 * elsewhere in the order. put-in: it does not belong there. other-log: it is of another record. bad-signature: the head's signature is not
 * its key's. other-key: the key is not one that is trusted. unsigned: no head covers it. unknown-head: the record was never in
 * the state that the head names. contradicts: it names a plan or a concession that the rows before it did not put in force.
 */
export type FaultKind =
  | 'changed'
  | 'dropped'
  | 'swapped'
  | 'put-in'
  | 'other-log'
  | 'bad-signature'
  | 'other-key'
  | 'unsigned'
  | 'unknown-head'
  | 'contradicts';

/** The first thing that is wrong. */
export interface RecordFault {
  readonly ok: false;
  readonly kind: FaultKind;
  /** Row it shows at, from 1: for a missing row its place, for a head the number of rows it speaks of. */
  readonly row: number;
  /** In words, with what was expected and what came. */
  readonly reason: string;
}

/** How far rows have been verified. */
export interface Reached {
  readonly ok: true;
  /** Hash of the last row; CHAIN_START before the first. */
  readonly last: string;
  /** Over the hashes of the rows so far; its size is their number. */
  readonly peaks: Peaks;
  /** What the rows so far put in force. */
  readonly grounds: Grounds;
}

/** Before the first row. */
export const recordStart: Reached = { ok: true, last: CHAIN_START, peaks: noLeaves, grounds: noGrounds };

/** What the host brings along. */
export interface RowChecks {
  /** A faster SHA-256 than the one that runs everywhere. */
  readonly sha256?: Sha256;
  /** Checks signatures of passkeys; without it no row that has one is found sound. */
  readonly keySigned?: KeySigned;
}

/** A row and where it stands. */
export interface PlacedRow {
  readonly project: string;
  readonly rows: readonly RecordRow[];
  /** From 0; everything before it has been verified. */
  readonly index: number;
}

/** Verifies one row on top of those before it. Never throws. */
export function verifyRow(placed: PlacedRow, before: Reached, checks: RowChecks = {}): Reached | RecordFault {
  const { sha256: hash = sha256 } = checks;
  const seq = placed.index + 1;
  const row = placed.rows[placed.index];
  if (!row) return { ok: false, kind: 'dropped', row: seq, reason: `row ${seq} is missing` };
  const changed = (reason: string): RecordFault => ({ ok: false, kind: 'changed', row: seq, reason });
  const statement = readCanonical(row.statement);
  if (statement === 'unreadable') return changed(`row ${seq}: its statement cannot be read`);
  if (statement === 'not-canonical') return changed(`row ${seq}: its statement is not in canonical form`);
  if (rowHash(statement.previous, row.statement, hash) !== row.hash)
    return changed(`row ${seq}: its hash does not match its statement`);
  if (statement.previous !== before.last) return outOfPlace(placed, { row, statement, last: before.last });
  if (row.seq !== seq) return changed(`row ${seq}: expected number ${seq}, got ${row.seq}`);
  if (statement.project !== placed.project)
    return { ok: false, kind: 'other-log', row: seq, reason: `row ${seq} is of another project's record` };
  if (!digestHolds(statement, row.statement, hash)) return changed(`row ${seq}: its digest does not match its facts`);
  const unconfirmed = confirmationFault(statement, checks);
  if (unconfirmed !== null) return { ok: false, kind: 'bad-signature', row: seq, reason: `row ${seq}: ${unconfirmed}` };
  const odd = contradiction(statement, before.grounds);
  if (odd !== null) return { ok: false, kind: 'contradicts', row: seq, reason: `row ${seq}: ${odd}` };
  const peaks = withLeaf(before.peaks, bytesOfHex(row.hash), hash);
  return { ok: true, last: row.hash, peaks, grounds: withGrounds(before.grounds, statement, row.hash) };
}

/** In words, why a row does not show how its signer confirmed it; null when it does. A password leaves nothing to check. */
export function confirmationFault(
  statement: Statement,
  { sha256: hash = sha256, keySigned }: RowChecks,
): string | null {
  if (statement.version === 1) return null;
  const { confirmedBy } = statement.signer;
  const evidence = statement.kind === 'signature' ? statement.evidence : undefined;
  if (confirmedBy === 'password') return evidence ? 'it says password and holds the answer of a passkey' : null;
  if (statement.kind !== 'signature' || !evidence) return 'it says passkey and holds no answer of one';
  const fault = assertionFault({ challenge: challengeOf(statement, hash), evidence }, { sha256: hash, keySigned });
  return fault === null ? null : `its passkey does not hold: ${fault}`;
}

/** Verifies rows, oldest first. Rows cut off at the end leave a whole chain: only a head shows that. */
export function verifyRows(
  project: string,
  rows: readonly RecordRow[],
  from: Reached = recordStart,
): Reached | RecordFault {
  let reached = from;
  for (let index = from.peaks.size; index < rows.length; index++) {
    const next = verifyRow({ project, rows, index }, reached);
    if (!next.ok) return next;
    reached = next;
  }
  return reached;
}

interface Stray {
  readonly row: RecordRow;
  readonly statement: Statement;
  /** Hash of the row it should build on. */
  readonly last: string;
}

/** A row that is whole in itself but does not follow the one before it: what happened is told by the rest of the file. */
function outOfPlace({ project, rows, index }: PlacedRow, { row, statement, last }: Stray): RecordFault {
  const seq = index + 1;
  const fault = (kind: FaultKind, reason: string): RecordFault => ({ ok: false, kind, row: seq, reason });
  const twice = rows.findIndex((other, i) => i !== index && other.hash === row.hash);
  if (twice >= 0) return fault('put-in', `row ${seq} was put in: it is row ${twice + 1} once more`);
  const foreign = statement.project !== project;
  const follows = rows.findIndex((other, i) => i > index && other.statement.includes(`"previous":"${last}"`));
  if (follows < 0 && !foreign)
    return fault(
      'dropped',
      `row ${seq} is missing: what stands there builds on another row (it calls itself ${row.seq})`,
    );
  if (!foreign && rows.some((other) => other.hash === statement.previous))
    return fault('swapped', `row ${seq} is swapped: the one that belongs there stands at ${follows + 1}`);
  return fault('put-in', `row ${seq} was put in: it builds on a row that is not in this record`);
}

/** Bytes of a hash given as hex; what is no hex digit becomes 0, and then matches nothing that was signed. */
export function bytesOfHex(text: string): Uint8Array {
  const bytes = new Uint8Array(text.length >> 1);
  for (let i = 0; i < bytes.length; i++)
    bytes[i] = nibble(text.charCodeAt(2 * i)) * 16 + nibble(text.charCodeAt(2 * i + 1));
  return bytes;
}

const nibble = (code: number): number =>
  code >= 97 && code <= 102 ? code - 87 : code >= 48 && code <= 57 ? code - 48 : 0;
