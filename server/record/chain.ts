import { gateDigest } from '../../shared/gates/readiness.ts';
import type { SignOff } from '../storage/ports.ts';
import { CHAIN_START, rowHash, type Statement, statementSchema, statementText } from './statement.ts';

/** Whether a project's sign-offs are as they were written, in order and without a gap. */
export type ChainReading =
  | { readonly ok: true; readonly rows: number; readonly head: string }
  | { readonly ok: false; readonly seq: number; readonly reason: string };

/**
 * Verifies all sign-offs of a project, oldest first: each row follows the one before, and hash, digest and columns match its
 * statement. Rows cut off at the end leave a whole chain: only a head that was written down elsewhere shows that.
 */
export function verifyChain(project: string, rows: readonly SignOff[]): ChainReading {
  let head = CHAIN_START;
  for (const [i, row] of rows.entries()) {
    const reason = wrongWith(row, { project, seq: i + 1, previous: head });
    if (reason !== null) return { ok: false, seq: i + 1, reason };
    head = row.hash;
  }
  return { ok: true, rows: rows.length, head };
}

interface Expected {
  readonly project: string;
  readonly seq: number;
  readonly previous: string;
}

function wrongWith(row: SignOff, { project, seq, previous }: Expected): string | null {
  if (row.seq !== seq) return `expected row ${seq}, got row ${row.seq}`;
  if (row.previousHash !== previous) return `row ${seq} does not build on the row before it`;
  if (rowHash(previous, row.statement) !== row.hash) return `row ${seq}: its hash does not match its statement`;
  const statement = readStatement(row.statement);
  if (!statement) return `row ${seq}: its statement cannot be read`;
  if (statementText(statement) !== row.statement) return `row ${seq}: its statement is not in canonical form`;
  if (statement.previous !== previous) return `row ${seq}: its statement names another row before it`;
  if (gateDigest(statement.gate, statement.facts, statement.ruleSet) !== statement.digest)
    return `row ${seq}: its digest does not match its facts`;
  const same =
    statement.project === project &&
    row.projectId === project &&
    row.gate === statement.gate &&
    row.accountId === statement.signer.account &&
    row.createdAt === statement.at;
  return same ? null : `row ${seq}: its columns do not match its statement`;
}

function readStatement(text: string): Statement | null {
  try {
    return statementSchema.safeParse(JSON.parse(text)).data ?? null;
  } catch {
    return null;
  }
}
