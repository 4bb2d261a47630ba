import type { RecordRow } from '../../shared/record/recordFile.ts';
import { isSignature, readStatement } from '../../shared/record/statement.ts';
import { type Reached, type RecordFault, recordStart, verifyRow } from '../../shared/record/verifyRows.ts';
import type { SignOff } from '../storage/ports.ts';
import { nodeChecks } from './signatures.ts';

/** Whether a project's sign-offs are as they were written, in order and without a gap. */
export type ChainReading =
  | { readonly ok: true; readonly rows: number; readonly head: string; readonly reached: Reached }
  | { readonly ok: false; readonly seq: number; readonly reason: string };

/** A kept row as it stands in a record. */
export const recordRow = ({ seq, statement, hash }: SignOff): RecordRow => ({ seq, statement, hash });

/**
 * Verifies all sign-offs of a project, oldest first: as anybody can (shared/record), and that the columns beside each statement say
 * the same. Rows cut off at the end leave a whole chain: only a head shows that.
 */
export function verifyChain(project: string, signOffs: readonly SignOff[]): ChainReading {
  const rows = signOffs.map(recordRow);
  let reached = recordStart;
  for (const [index, signOff] of signOffs.entries()) {
    const next: Reached | RecordFault = verifyRow({ project, rows, index }, reached, nodeChecks);
    if (!next.ok) return { ok: false, seq: next.row, reason: next.reason };
    if (!columnsMatch(signOff, project, reached.last))
      return { ok: false, seq: index + 1, reason: `row ${index + 1}: its columns do not match its statement` };
    reached = next;
  }
  return { ok: true, rows: rows.length, head: reached.last, reached };
}

function columnsMatch(row: SignOff, project: string, previous: string): boolean {
  const statement = readStatement(row.statement);
  return (
    statement !== null &&
    row.projectId === project &&
    row.previousHash === previous &&
    // Rows of no gate's signature stand under no gate.
    row.gate === (isSignature(statement) ? statement.gate : '') &&
    row.accountId === statement.signer.account &&
    row.createdAt === statement.at
  );
}
