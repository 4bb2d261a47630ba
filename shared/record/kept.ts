import type { z } from 'zod';
import { type SignedHead, signedHeadSchema } from './head.ts';
import { type GrowthProof, growthProofSchema, type RowProof, rowProofSchema } from './proofFile.ts';
import { readRecordFile, recordHeadSchema } from './recordFile.ts';

/** What was kept of a record, out of a file's text; or what was expected and what came. */
export type KeptReading<T> = { readonly ok: true; readonly kept: T } | { readonly ok: false; readonly problem: string };

/** The proof of a row; never throws. */
export function readRowProof(text: string): KeptReading<RowProof> {
  return shaped(text, rowProofSchema, 'a proof of a row');
}

/** The proof that a record only grew; never throws. */
export function readGrowthProof(text: string): KeptReading<GrowthProof> {
  return shaped(text, growthProofSchema, 'a proof of growth');
}

/** A head: by itself, as the server answers it, or the last one of a whole record. Never throws. */
export function readHead(text: string): KeptReading<SignedHead> {
  const record = readRecordFile(text);
  const last = record.ok ? record.record.heads.at(-1) : undefined;
  if (last) return { ok: true, kept: last };
  const answered = recordHeadSchema.transform(({ head }) => head);
  const head = shaped(text, signedHeadSchema.or(answered), 'a head of a record');
  if (!head.ok) return head;
  return head.kept
    ? { ok: true, kept: head.kept }
    : { ok: false, problem: 'nothing was signed yet when this was kept' };
}

function shaped<T>(text: string, schema: z.ZodType<T>, expected: string): KeptReading<T> {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return { ok: false, problem: `expected ${expected}, got no JSON` };
  }
  const read = schema.safeParse(value);
  if (read.success) return { ok: true, kept: read.data };
  const [issue] = read.error.issues;
  return { ok: false, problem: `expected ${expected}; at ${issue?.path.join('.') || 'the top'}: ${issue?.message}` };
}
