import { z } from 'zod';

/** What of the header is not in an answer, and why, in words. */
const leftOutSchema = z.object({ name: z.string(), why: z.string() });

/**
 * Answer of GET /api/projects/:id/scans/:scan/nearness: how near each point of the scan is to the header as it is now. `name` names the
 * bytes, one a point in the order of the tiles; `tiles` has a sum of each tile's bytes, '' for a tile with nothing within the cap (metres).
 */
export const askedNearnessSchema = z.discriminatedUnion('state', [
  z.object({ state: z.literal('pending') }),
  z.object({ state: z.literal('none'), why: z.string() }),
  z.object({
    state: z.literal('there'),
    name: z.string().regex(/^[0-9a-f]{32}$/),
    cap: z.number().positive(),
    tiles: z.array(z.string().regex(/^([0-9a-f]{8})?$/)),
    leftOut: z.array(leftOutSchema),
  }),
]);

/** Query of that address: whether the scan lies as uploaded or where the datum points put it. */
export const nearnessQuerySchema = z.object({ placed: z.enum(['as-uploaded', 'by-datums']).default('as-uploaded') });

/** See {@link askedNearnessSchema}. */
export type AskedNearness = z.infer<typeof askedNearnessSchema>;
/** Something of the header that is not in an answer. */
export type LeftOut = z.infer<typeof leftOutSchema>;
