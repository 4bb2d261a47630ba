import { z } from 'zod';
import { hexOf32, signedHeadSchema } from './head.ts';

/** One row of a record. Nothing stands in it that its hash or its place does not cover. */
export const recordRowSchema = z.strictObject({
  /** Place, from 1. */
  seq: z.number().int(),
  /** Canonical JSON of the statement, byte for byte. */
  statement: z.string(),
  /** See rowHash. */
  hash: hexOf32,
});
/** See {@link recordRowSchema}. */
export type RecordRow = z.infer<typeof recordRowSchema>;

/** Answer of GET /api/projects/:id/record: the whole record of a project, as it can be kept and verified without a server. */
export const recordFileSchema = z.strictObject({
  format: z.literal('slipjoint-record'),
  version: z.literal(1),
  project: z.string(),
  /** Ed25519 public key of the server that wrote it. */
  key: hexOf32,
  rows: z.array(recordRowSchema),
  /** In order of size. */
  heads: z.array(signedHeadSchema),
});
/** See {@link recordFileSchema}. */
export type RecordFile = z.infer<typeof recordFileSchema>;

/** Answer of GET /api/projects/:id/record/head. */
export const recordHeadSchema = z.object({
  /** Of the whole record as it stands; null while nothing has been signed. */
  head: signedHeadSchema.nullable(),
});

/** A record out of a file's text, or what was expected and what came. */
export type RecordFileReading =
  | { readonly ok: true; readonly record: RecordFile }
  | { readonly ok: false; readonly problem: string };

/** Reads a record file; never throws. */
export function readRecordFile(text: string): RecordFileReading {
  try {
    const parsed = recordFileSchema.safeParse(JSON.parse(text));
    if (parsed.success) return { ok: true, record: parsed.data };
    const [issue] = parsed.error.issues;
    const where = issue && issue.path.length > 0 ? ` at ${issue.path.join('.')}` : '';
    return { ok: false, problem: `expected a record file${where}, ${issue?.message ?? 'but it is none'}` };
  } catch (error) {
    return { ok: false, problem: `expected JSON, ${error instanceof Error ? error.message : String(error)}` };
  }
}
