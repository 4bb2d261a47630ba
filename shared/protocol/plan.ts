import { z } from 'zod';
import { itemLimit, type Plan, reasonLeast, textLimit } from '../gates/plan.ts';
import { roles } from '../gates/roles.ts';
import { gateIds } from '../spec/gateId.ts';

/** Points of the inspection plan: work stops, a party is called, records are read afterwards. */
const point = z.enum(['hold', 'witness', 'review']);

/** One item of a gate, in shape; planProblems says whether it can be worked by. */
export const planItemSchema = z.strictObject({
  id: z.string().max(40),
  point,
  text: z.string().max(textLimit),
  field: z.string().max(100).optional(),
});
/** A whole plan: every gate once, in the order of the work. */
export const planSchema = z.array(
  z.strictObject({
    gate: z.enum(gateIds),
    point,
    signs: z.array(z.enum(roles)).max(roles.length),
    twoPeople: z.boolean(),
    items: z.array(planItemSchema).max(10 * itemLimit),
    left: z.string().max(textLimit).optional(),
  }),
);

/** Why somebody decided something, for the record: trimmed. */
export const reasonSchema = z
  .string()
  .transform((text) => text.normalize('NFC').trim())
  .refine(
    (text) => text.length >= reasonLeast && text.length <= textLimit,
    `a reason of ${reasonLeast} to ${textLimit} characters`,
  );
/** Hash of a row of the record, 64 hex digits. */
const rowHash = z.string().regex(/^[0-9a-f]{64}$/, '64 hex digits');
/** Who decided something. */
export const decidedBySchema = z.object({ account: z.string(), name: z.string() });

/** Body of PUT /api/projects/:id/plan: the whole plan. `replaces` names the plan it was made from, so that nobody's is lost. */
export const planRequestSchema = z.strictObject({
  plan: planSchema,
  reason: reasonSchema,
  /** Hash of the row of the plan in force, null: the default. */
  replaces: rowHash.nullable(),
  password: z.string().min(1).max(256),
});
/** See {@link planRequestSchema}. */
export type PlanRequest = z.infer<typeof planRequestSchema>;

/** Answer of GET /api/projects/:id/plan. */
export const planViewSchema = z.object({
  plan: planSchema,
  digest: rowHash,
  /** Row of the record that put it in force, with who, when and why; null: the default plan. */
  row: rowHash.nullable(),
  by: decidedBySchema.nullable(),
  at: z.string().nullable(),
  reason: z.string().nullable(),
});
/** The plan a job is worked by, and who put it in force. */
export interface PlanView {
  readonly plan: Plan;
  /** SHA-256 of the plan, 64 hex digits. */
  readonly digest: string;
  /** Hash of the row of the record that put it in force; null: the default plan, and so `by`, `at` and `reason`. */
  readonly row: string | null;
  readonly by: { readonly account: string; readonly name: string } | null;
  /** ISO 8601 in UTC. */
  readonly at: string | null;
  readonly reason: string | null;
}

/** A plan out of its checked shape; an item without a field has no such member. */
export function planFrom(shape: z.infer<typeof planSchema>): Plan {
  return shape.map(({ left, items, ...row }) => ({
    ...row,
    items: items.map(({ field, ...item }) => ({ ...item, ...(field !== undefined && { field }) })),
    ...(left !== undefined && { left }),
  }));
}
