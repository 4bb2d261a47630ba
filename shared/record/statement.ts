import { z } from 'zod';
import { roles } from '../gates/roles.ts';
import { limitSchema } from '../protocol/concessions.ts';
import { planSchema } from '../protocol/plan.ts';
import { signingMeanings } from '../protocol/signing.ts';
import { canonical } from '../spec/digest.ts';
import { gateIds } from '../spec/gateId.ts';
import { isQuantityKey, type QuantityKey } from '../units/quantities.ts';
import { evidenceSchema } from './assertion.ts';
import { plainSignature } from './plainShape.ts';
import { type Sha256, sha256 } from './sha256.ts';

const fact = z.union([z.number(), z.string(), z.boolean(), z.null()]);
const verdict = z.strictObject({ key: z.string(), status: z.string(), digest: z.string() });

/** What every row says. */
const anyRow = {
  project: z.string(),
  at: z.string(),
  nonce: z.string(),
  /** Hash of the row before. */
  previous: z.string(),
};

/** What a signature says, whichever its version. */
const signed = {
  ...anyRow,
  gate: z.enum(gateIds),
  meaning: z.enum(signingMeanings),
  ruleSet: z.number().int(),
  digest: z.string(),
  /** Covered facts by path, SI. */
  facts: z.record(z.string(), fact),
  /** SI unit of each numeric fact. */
  units: z.record(z.string(), z.string()),
  verdicts: z.array(verdict),
};

/** Rows written before there was anything but signatures in a record. They are read and verified for ever. */
/** See {@link SignatureV1}. */
export const signatureV1 = z.strictObject({
  version: z.literal(1),
  ...signed,
  signer: z.strictObject({
    account: z.string(),
    name: z.string(),
    role: z.enum(roles),
    confirmedBy: z.literal('password'),
  }),
  /** Content hashes of the scans and parts the facts name. */
  files: z.array(z.string()),
});

/** Who wrote a row, in which role, and how he showed that it was he. */
const signer = z.strictObject({
  account: z.string(),
  name: z.string(),
  role: z.enum(roles),
  confirmedBy: z.enum(['password', 'passkey']),
});

const second = { version: z.literal(2), ...anyRow, signer };

/** See {@link SignatureV2}. */
export const signatureV2 = z.strictObject({
  ...second,
  ...signed,
  kind: z.literal('signature'),
  /** Journal number of the project up to which what was signed is kept. */
  seq: z.number().int(),
  /** SHA-256 of the plan in force. */
  plan: z.string(),
  /** Concessions it rests on: their ids and the hashes of their rows. */
  concessions: z.array(z.strictObject({ id: z.string(), hash: z.string() })),
  /** Scans, parts and photos the facts name, by content, with the names they came under. */
  files: z.array(z.strictObject({ sha256: z.string(), name: z.string() })),
  /** As the signer typed them. Rows from before they were asked for have none. */
  initials: z.string().optional(),
  /** What the signer's passkey answered to the rest of the statement; there exactly when it was confirmed by one. */
  evidence: evidenceSchema.optional(),
});

const planRow = z.strictObject({
  ...second,
  kind: z.literal('plan'),
  plan: planSchema,
  reason: z.string(),
  /** Hash of the row of the plan before; null: the default. */
  replaces: z.string().nullable(),
});

const concessionRow = z.strictObject({
  ...second,
  kind: z.literal('concession'),
  id: z.string(),
  /** Key of the verdict, and its digest when it was accepted. */
  verdict: z.string(),
  seen: z.string(),
  gate: z.enum(gateIds),
  title: z.string(),
  quantity: z.custom<QuantityKey>((key) => typeof key === 'string' && isQuantityKey(key), 'a known quantity'),
  /** SI, with the unit. */
  value: z.number(),
  unit: z.string(),
  limit: limitSchema,
  ruleSet: z.number().int(),
  reason: z.string(),
  expires: z.string().nullable(),
});

const concessionEndedRow = z.strictObject({
  ...second,
  kind: z.literal('concession-ended'),
  id: z.string(),
  /** Hash of the row that granted it. */
  concession: z.string(),
  reason: z.string(),
});

/** A signature as rows of version 1 hold it. */
export type SignatureV1 = z.infer<typeof signatureV1>;
/** A signature of version 2. */
export type SignatureV2 = z.infer<typeof signatureV2>;
/** The plan of the gates was changed. */
export type PlanRow = z.infer<typeof planRow>;
/** A value outside its limit was accepted. */
export type ConcessionRow = z.infer<typeof concessionRow>;
/** Somebody took a concession back. */
export type ConcessionEndedRow = z.infer<typeof concessionEndedRow>;
/** What a row says, whole: the row's hash is over its canonical JSON (RFC 8785). */
export type Statement = SignatureV1 | SignatureV2 | PlanRow | ConcessionRow | ConcessionEndedRow;

/** True for a signature of either version. */
export function isSignature(statement: Statement): statement is SignatureV1 | SignatureV2 {
  return statement.version === 1 || statement.kind === 'signature';
}

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

/** What a passkey is asked to sign, 64 hex digits: SHA-256 of the statement's text without the passkey's answer. */
export function challengeOf({ evidence: _, ...statement }: SignatureV2, hash: Sha256 = sha256): string {
  return hash.ofText(statementText(statement));
}

/** A statement from its text; null when it is none. */
export function readStatement(text: string): Statement | null {
  return statementIn(parsed(text));
}

/** A statement whose text is its canonical form; else what is wrong with the text. */
export function readCanonical(text: string): Statement | 'unreadable' | 'not-canonical' {
  const value = parsed(text);
  // The engine's own writing, with names in order, is the canonical form.
  if (isPlain(value) && JSON.stringify(value) === text) return value;
  const statement = statementIn(value);
  if (!statement) return 'unreadable';
  return statementText(statement) === text ? statement : 'not-canonical';
}

/** True if a signature's digest is that of its facts, gate and rule set (the same as gateDigest in shared/gates). `text` is its canonical text. */
export function digestHolds(statement: Statement, text: string, hash: Sha256 = sha256): boolean {
  if (!isSignature(statement)) return true;
  const { digest, facts, gate, ruleSet } = statement;
  const covered = factsIn(text) ?? canonical(facts);
  return hash.ofText(`{"facts":${covered},"gate":${JSON.stringify(gate)},"ruleSet":${ruleSet}}`) === digest;
}

/**
 * The facts as they stand in a signature's canonical text; null when they are not found. Neither mark can stand within a text of it, where
 * every quotation mark has a backslash before it; facts hold no lists and nothing nested.
 */
function factsIn(text: string): string | null {
  const start = text.indexOf(',"facts":{');
  const end = text.indexOf('},"files":[', start);
  return start < 0 || end < 0 ? null : text.slice(start + ',"facts":'.length, end + 1);
}

/** The schemas below would say the same. */
function isPlain(value: unknown): value is SignatureV1 | SignatureV2 {
  return plainSignature(value);
}

/** One look at what it calls itself, then one schema: trying them all would cost a long record many times as much. */
function statementIn(value: unknown): Statement | null {
  if (isPlain(value)) return value;
  if (typeof value !== 'object' || value === null || !('version' in value)) return null;
  if (value.version === 1) return signatureV1.safeParse(value).data ?? null;
  switch ('kind' in value && value.kind) {
    case 'signature':
      return signatureV2.safeParse(value).data ?? null;
    case 'plan':
      return planRow.safeParse(value).data ?? null;
    case 'concession':
      return concessionRow.safeParse(value).data ?? null;
    case 'concession-ended':
      return concessionEndedRow.safeParse(value).data ?? null;
    default:
      return null;
  }
}

/** Undefined for text that is no JSON. */
function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
