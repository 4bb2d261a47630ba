import { digest } from 'lib0/hash/sha256';
import { encodeUtf8 } from 'lib0/string';
import { z } from 'zod';
import { roles } from '../gates/roles.ts';
import { signingMeanings } from '../protocol/signing.ts';
import { canonical, hex } from '../spec/digest.ts';
import { gateIds } from '../spec/gateId.ts';

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
export function rowHash(previous: string, statement: string): string {
  return hex(digest(encodeUtf8(`\0${previous}${statement}`)));
}

/** The canonical text of a statement. */
export function statementText(statement: Statement): string {
  return canonical(statement);
}

/** A statement from its text; null when it is none. */
export function readStatement(text: string): Statement | null {
  try {
    return statementSchema.safeParse(JSON.parse(text)).data ?? null;
  } catch {
    return null;
  }
}
