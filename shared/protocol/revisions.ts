import { z } from 'zod';

/** Longest name and longest note of a revision, characters. */
export const revisionLimits = { name: 120, note: 1000 } as const;
/** Most changes in one answer of the history. */
export const historyLimit = 500;

const id = z.string().min(1).max(64);
const person = z.object({ account: z.string(), name: z.string() });
const mark = z.enum(['within', 'near', 'outside', 'caution', 'unknown', 'pending', 'none']);

/** Body of POST /api/projects/:id/revisions. */
export const newRevisionSchema = z.strictObject({
  name: z
    .string()
    .transform((text) => text.normalize('NFC').trim())
    .refine((text) => text.length >= 1 && text.length <= revisionLimits.name, `1 to ${revisionLimits.name} characters`)
    .refine((text) => !/\p{Cc}/u.test(text), 'one line without control characters'),
  note: z
    .string()
    .transform((text) => text.normalize('NFC').trim())
    .refine((text) => text.length <= revisionLimits.note, `at most ${revisionLimits.note} characters`)
    .default(''),
});

/** A named state of the spec. */
export const revisionSchema = z.object({
  id,
  n: z.number().int().positive(),
  /** What `n` is called on drawings. */
  letter: z.string(),
  name: z.string(),
  note: z.string(),
  /** Journal number up to which it holds. */
  seq: z.number().int().nonnegative(),
  /** SHA-256 of its entries as canonical JSON. */
  digest: z.string(),
  /** Rule set in force when it was made. */
  ruleSet: z.number().int(),
  by: person,
  at: z.iso.datetime(),
});
/** Answer of GET /api/projects/:id/revisions, newest first; and the feed's event. */
export const revisionListSchema = z.object({ revisions: z.array(revisionSchema) });
/** Answer of GET /api/projects/:id/revisions/:revision: with its entries as the spec document held them, ticks and all. */
export const revisionStateSchema = z.object({ revision: revisionSchema, entries: z.record(z.string(), z.unknown()) });

/** Query of GET /api/projects/:id/compare: ids of revisions, or `now`. */
export const compareQuerySchema = z.strictObject({ before: id, after: id });

const change = z.object({
  path: z.string(),
  /** What it is, as the spec names it. */
  title: z.string(),
  /** In words and display units. */
  from: z.string(),
  to: z.string(),
});
const judged = z.object({ label: z.string(), mark, measured: z.string() });
const end = z.object({ revision: revisionSchema.nullable(), seq: z.number().int() });

/** Answer of GET /api/projects/:id/compare. */
export const comparisonSchema = z.object({
  /** `revision` is null for the state now. */
  before: end,
  after: end,
  /** By section of the sheet, in its order. */
  sections: z.array(
    z.object({
      title: z.string(),
      rows: z.array(change.extend({ kind: z.enum(['added', 'removed', 'renamed', 'moved']) })),
      fields: z.array(change),
    }),
  ),
  /** Verdicts whose state differs; null: its subject is only in the other one. */
  flipped: z.array(
    z.object({
      key: z.string(),
      rule: z.string(),
      subject: z.string(),
      before: judged.nullable(),
      after: judged.nullable(),
    }),
  ),
  /** Checks whose measurement was not there in time, on either side: nothing is said about them. */
  notMeasured: z.array(z.object({ key: z.string(), rule: z.string(), subject: z.string() })),
  /** Every runner of either side. */
  runners: z.array(
    z.object({
      id: z.string(),
      name: z.string(),
      state: z.enum(['same', 'moved', 'added', 'removed', 'unknown']),
      /** Farthest any place of its centreline moved, metres; null unless both centrelines are there. */
      largest: z.number().nullable(),
    }),
  ),
});

const place = /^\d{1,15}(\.\d{1,9})?$/;

/**
 * Query of GET /api/projects/:id/history. Newest first, going on with `before`; with `since` oldest first after that journal number. Both
 * also take what an answer gave as `more`.
 */
export const historyQuerySchema = z
  .strictObject({
    path: z.string().min(1).max(200).optional(),
    since: z.string().regex(place, 'a journal number such as 12').optional(),
    before: z.string().regex(place, 'a journal number such as 12').optional(),
    limit: z
      .string()
      .regex(/^\d{1,6}$/, 'a whole number')
      .transform(Number)
      .refine((n) => n >= 1 && n <= historyLimit, `1 to ${historyLimit}`)
      .default(100),
  })
  .refine((query) => query.since === undefined || query.before === undefined, 'either since or before');

/** One field that one edit changed. */
export const changeSchema = change.extend({
  seq: z.number().int(),
  by: person,
  /** Null for edits made before times were kept. */
  at: z.iso.datetime().nullable(),
});
/** Answer of GET /api/projects/:id/history; `more` goes on from its end, null when there is nothing more now. */
export const historySchema = z.object({ changes: z.array(changeSchema), more: z.string().nullable() });

/** See {@link newRevisionSchema}. */
export type NewRevision = z.infer<typeof newRevisionSchema>;
/** See {@link revisionSchema}. */
export type RevisionView = z.infer<typeof revisionSchema>;
/** See {@link comparisonSchema}. */
export type Comparison = z.infer<typeof comparisonSchema>;
/** See {@link historyQuerySchema}. */
export type HistoryQuery = z.infer<typeof historyQuerySchema>;
/** See {@link changeSchema}. */
export type ChangeView = z.infer<typeof changeSchema>;
/** See {@link historySchema}. */
export type HistoryView = z.infer<typeof historySchema>;
