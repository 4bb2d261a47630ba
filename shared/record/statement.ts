import { z } from 'zod';
import { roles } from '../gates/roles.ts';
import { signingMeanings } from '../protocol/signing.ts';
import { canonical } from '../spec/digest.ts';
import { gateIds } from '../spec/gateId.ts';
import { type Sha256, sha256 } from './sha256.ts';

const fact = z.union([z.number(), z.string(), z.boolean(), z.null()]);

/** What a signature says, whole: the row's hash is over its canonical JSON (RFC 8785). */
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
/** See {@link statementSchema}. */
export type Statement = z.infer<typeof statementSchema>;

/** Hash of the row before the first, 64 hex digits. */
export const CHAIN_START = '0'.repeat(64);

/** Hash of a row, 64 hex digits: SHA-256 over a zero byte, the previous row's hash as text and the statement's text, UTF-8. */
export function rowHash(previous: string, statement: string, hash: Sha256 = sha256): string {
  return hash.ofText(`\0${previous}${statement}`);
}

/** The canonical text of a statement. */
export function statementText(statement: Statement): string {
  return canonical(statement);
}

/** A statement from its text; null when it is none. */
export function readStatement(text: string): Statement | null {
  return statementSchema.safeParse(parsed(text)).data ?? null;
}

/** A statement whose text is its canonical form; else what is wrong with the text. */
export function readCanonical(text: string): Statement | 'unreadable' | 'not-canonical' {
  const value = parsed(text);
  const statement = statementSchema.safeParse(value).data;
  if (!statement) return 'unreadable';
  // The engine's own writing, with keys in order, is the canonical form; looking at that first is several times as fast.
  if (JSON.stringify(value) === text && keysInOrder(value)) return statement;
  return statementText(statement) === text ? statement : 'not-canonical';
}

/** True if the statement's digest is that of its facts, gate and rule set (the same as gateDigest in shared/gates). */
export function digestHolds({ digest, facts, gate, ruleSet }: Statement, hash: Sha256 = sha256): boolean {
  return hash.ofText(canonical({ facts, gate, ruleSet })) === digest;
}

/** Undefined for text that is no JSON. */
function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/** True if the keys of every record in it stand in the order of their UTF-16 code units. */
function keysInOrder(value: unknown): boolean {
  if (typeof value !== 'object' || value === null) return true;
  if (Array.isArray(value)) return value.every(keysInOrder);
  const members: Readonly<Record<string, unknown>> = { ...value };
  let before = '';
  for (const key in members) {
    const member = members[key];
    if (key < before || (typeof member === 'object' && !keysInOrder(member))) return false;
    before = key;
  }
  return true;
}
