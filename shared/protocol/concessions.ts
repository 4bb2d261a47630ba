import { z } from 'zod';
import { decidedBySchema, reasonSchema } from './plan.ts';

/** The bound a measured value is held against, SI. */
export const limitSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('max'), value: z.number() }),
  z.strictObject({ kind: z.literal('min'), value: z.number() }),
  z.strictObject({ kind: z.literal('range'), low: z.number(), high: z.number() }),
]);

/** Body of POST /api/projects/:id/concessions. `id` is the sender's own: the same request a second time is refused. */
export const concessionRequestSchema = z.strictObject({
  id: z.string().regex(/^[a-z0-9]{8,40}$/, '8 to 40 small letters and digits, new for each request'),
  /** Key of the verdict. */
  verdict: z.string().min(1).max(300),
  /** Digest of the verdict as it was looked at. */
  seen: z.string().regex(/^[0-9a-f]{16}$/, '16 hex digits'),
  reason: reasonSchema,
  /** When it runs out, ISO 8601 in UTC; null: not by itself. */
  expires: z.iso.datetime().nullable(),
  password: z.string().min(1).max(256),
});
/** Body of POST /api/projects/:id/concessions/:cid/end. */
export const concessionEndSchema = z.strictObject({ reason: reasonSchema, password: z.string().min(1).max(256) });
/** See {@link concessionRequestSchema}. */
export type ConcessionRequest = z.infer<typeof concessionRequestSchema>;
/** See {@link concessionEndSchema}. */
export type ConcessionEnd = z.infer<typeof concessionEndSchema>;

/** Answer of GET /api/projects/:id/concessions: every one ever granted, oldest first, and where it stands now. */
export const concessionListSchema = z.object({
  concessions: z.array(
    z.object({
      concession: z.object({
        id: z.string(),
        verdict: z.string(),
        gate: z.string(),
        title: z.string(),
        quantity: z.string(),
        value: z.number(),
        limit: limitSchema,
        reason: z.string(),
        by: decidedBySchema,
        at: z.string(),
        expires: z.string().nullable(),
        hash: z.string(),
        ended: z.object({ reason: z.string(), by: decidedBySchema, at: z.string() }).optional(),
      }),
      standing: z.discriminatedUnion('standing', [
        z.object({ standing: z.literal('in-force') }),
        z.object({ standing: z.literal('waits') }),
        z.object({
          standing: z.literal('lapsed'),
          because: z.enum(['ended', 'replaced', 'expired', 'worse', 'limit-moved', 'unneeded']),
        }),
      ]),
    }),
  ),
});
