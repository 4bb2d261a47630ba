import { z } from 'zod';

/** Farther from the header than this a point of a scan is not told how far, metres (own: what the widest usual gap asks for, with room). */
export const nearnessCap = 0.06;
/** Level of a point at the cap or beyond it; see {@link nearnessLevel}. */
export const NEARNESS_FAR = 255;
/** Steps from contact to the cap. */
const STEPS = 254;

/** A distance (metres) as one byte: 0 in contact or inside, steps of a 254th of the cap, {@link NEARNESS_FAR} at the cap, beyond it and for what is no number. */
export function nearnessLevel(distance: number, cap: number): number {
  if (!(distance < cap)) return NEARNESS_FAR;
  return Math.max(0, Math.round((STEPS * distance) / cap));
}

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
