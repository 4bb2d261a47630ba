import { z } from 'zod';

/** Entries one edit over HTTP may touch. */
export const editLimit = 2_000;

/**
 * Body of PATCH /api/projects/:id/spec. `set` gives each path a value: text is read as typed in the app (`44.45 mm`, `1-5/8"`, a choice, a
 * name), a number is SI, and for a row its place in the order. `remove` clears a field or takes a row with all below it away; first.
 */
export const specEditSchema = z
  .strictObject({
    set: z.record(z.string().max(200), z.union([z.string().max(1_000), z.number()])).default({}),
    remove: z.array(z.string().max(200)).default([]),
  })
  .refine(({ set, remove }) => {
    const count = Object.keys(set).length + remove.length;
    return count >= 1 && count <= editLimit;
  }, `1 to ${editLimit} entries in set and remove together`);
/** Answer: the journal number up to which everything is kept. */
export const editedSchema = z.object({ seq: z.number().int().nonnegative() });
/** See {@link specEditSchema}. */
export type SpecEdit = z.infer<typeof specEditSchema>;

const point = z.tuple([z.number(), z.number(), z.number()]);
const remark = z
  .string()
  .max(4_000)
  .refine((text) => text.trim() !== '', 'some text');
/** Body of POST /api/projects/:id/markups: a remark at a place in the bay, metres. */
export const newMarkupSchema = z.strictObject({ at: point, text: remark });
/** Body of POST /api/projects/:id/markups/:thread/comments. */
export const newCommentSchema = z.strictObject({ text: remark });
/** Body of PUT /api/projects/:id/markups/:thread/state. */
export const markupStateSchema = z.strictObject({ state: z.enum(['open', 'resolved']) });
/** Answer of POST /api/projects/:id/markups. */
export const madeMarkupSchema = z.object({ thread: z.string(), n: z.number().int(), seq: z.number().int() });
