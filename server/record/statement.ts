import { createHash } from 'node:crypto';
import { z } from 'zod';
import { factQuantity } from '../../shared/gates/factWords.ts';
import type { Signature } from '../../shared/gates/readiness.ts';
import { roles } from '../../shared/gates/roles.ts';
import { signingMeanings } from '../../shared/protocol/signing.ts';
import type { CoveredFacts } from '../../shared/spec/covered.ts';
import { canonical } from '../../shared/spec/digest.ts';
import { gateIds } from '../../shared/spec/gateId.ts';
import { quantityRow } from '../../shared/units/quantities.ts';
import type { SignOff } from '../storage/ports.ts';

const fact = z.union([z.number(), z.string(), z.boolean(), z.null()]);

/** What a signature says, whole: the row's hash is over its canonical JSON. */
export const statementSchema = z.strictObject({
  version: z.literal(1),
  project: z.string(),
  gate: z.enum(gateIds),
  meaning: z.enum(signingMeanings),
  signer: z.strictObject({
    account: z.string(),
    name: z.string(),
    role: z.enum(roles),
    confirmedBy: z.literal('password'),
  }),
  at: z.string(),
  ruleSet: z.number().int(),
  digest: z.string(),
  /** Covered facts by path, SI. */
  facts: z.record(z.string(), fact),
  /** SI unit of each numeric fact. */
  units: z.record(z.string(), z.string()),
  /** Content hashes of the scans and parts the facts name. */
  files: z.array(z.string()),
  verdicts: z.array(z.strictObject({ key: z.string(), status: z.string(), digest: z.string() })),
  nonce: z.string(),
  previous: z.string(),
});
export type Statement = z.infer<typeof statementSchema>;

/** Hash of the row before the first. */
export const CHAIN_START = '0'.repeat(64);

/** Hash of a row: SHA-256 over a zero byte, the previous hash and the statement's text. */
export function rowHash(previous: string, statement: string): string {
  return createHash('sha256')
    .update(Buffer.from([0]))
    .update(previous)
    .update(statement)
    .digest('hex');
}

/** SI units of the numeric facts, by path. */
export function unitsOf(facts: CoveredFacts): Record<string, string> {
  const out: Record<string, string> = {};
  for (const path of Object.keys(facts)) {
    const quantity = factQuantity(path);
    if (quantity && typeof facts[path] === 'number') out[path] = quantityRow(quantity).units[0].symbol;
  }
  return out;
}

/** Content hashes among the facts, sorted. */
export function filesOf(facts: CoveredFacts): string[] {
  const hashes = Object.keys(facts)
    .filter((path) => path.endsWith('.scan') || path.endsWith('.mesh'))
    .map((path) => facts[path]);
  return hashes.filter((h): h is string => typeof h === 'string').sort();
}

/** The canonical text of a statement. */
export function statementText(statement: Statement): string {
  return canonical(statement);
}

/** A kept row as a signature. Throws when the row does not hold what it should: the record is damaged. */
export function signatureOf(row: SignOff): Signature {
  const s = statementSchema.parse(JSON.parse(row.statement));
  if (rowHash(row.previousHash, row.statement) !== row.hash)
    throw new Error(`sign-off ${row.id}: its hash does not match its statement`);
  return {
    id: row.id,
    gate: s.gate,
    account: s.signer.account,
    name: s.signer.name,
    role: s.signer.role,
    at: s.at,
    meaning: s.meaning,
    ruleSet: s.ruleSet,
    facts: s.facts,
    digest: s.digest,
    hash: row.hash,
  };
}
