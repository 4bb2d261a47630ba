import { z } from 'zod';
import { gateIds } from '../spec/gateId.ts';

/** Why somebody is told: a gate waits for their signature, a remark names them, their signature no longer speaks of the facts. */
export const noticeKinds = ['waits', 'mention', 'stale'] as const;
/** One of {@link noticeKinds}. */
export type NoticeKind = (typeof noticeKinds)[number];

/** Where it is to be seen to; the web jumps there. */
export const noticePlaceSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('gate'), gate: z.enum(gateIds) }),
  z.object({ kind: z.literal('thread'), thread: z.string() }),
]);
/** See {@link noticePlaceSchema}. */
export type NoticePlace = z.infer<typeof noticePlaceSchema>;

const when = z.iso.datetime();

/** Something the asker was told of that still stands. */
export const noticeSchema = z.object({
  id: z.string(),
  kind: z.enum(noticeKinds),
  words: z.string(),
  place: noticePlaceSchema,
  at: when,
  readAt: when.nullable(),
});
/** Answer of GET /api/projects/:id/notices: newest first. */
export const noticeListSchema = z.object({ notices: z.array(noticeSchema) });
/** Body of POST /api/projects/:id/notices/read. */
export const readNoticesSchema = z.strictObject({ ids: z.array(z.string().max(64)).min(1).max(500) });
/** See {@link noticeSchema}. */
export type NoticeView = z.infer<typeof noticeSchema>;

/** Body of PUT /api/account/mail. */
export const mailAddressSchema = z.strictObject({
  address: z
    .string()
    .transform((text) => text.trim())
    .refine((text) => text.length <= 254 && /^[^\s@<>",;:]+@[^\s@<>",;:]+$/.test(text), 'one mail address'),
});
/** Body of POST /api/account/mail/confirm. */
export const mailCodeSchema = z.strictObject({ code: z.string().min(1).max(40) });
/** Answer of GET and PUT /api/account/mail and of confirming. `possible` is false while the server has no way to send mail. */
export const mailStateSchema = z.object({
  possible: z.boolean(),
  address: z.string().nullable(),
  confirmed: z.boolean(),
});
/** See {@link mailStateSchema}. */
export type MailState = z.infer<typeof mailStateSchema>;

/** Body of POST /api/projects/:id/hooks. */
export const newHookSchema = z.strictObject({ url: z.string().min(1).max(2000) });
/** Where notices of a project are posted to, and how that went. */
export const hookSchema = z.object({
  id: z.string(),
  url: z.string(),
  createdAt: when,
  /** Messages that came through, that wait to be tried again, and that were given up after a day. */
  delivered: z.number().int().nonnegative(),
  waiting: z.number().int().nonnegative(),
  givenUp: z.number().int().nonnegative(),
  /** What went wrong last; null when the last message came through. */
  lastError: z.string().nullable(),
});
/** Answer of GET /api/projects/:id/hooks. */
export const hookListSchema = z.object({ hooks: z.array(hookSchema) });
/** Answer of POST /api/projects/:id/hooks: `secret` is shown this once; messages are signed with it as Standard Webhooks says. */
export const madeHookSchema = hookSchema.extend({ secret: z.string() });
/** See {@link hookSchema}. */
export type HookView = z.infer<typeof hookSchema>;
/** See {@link madeHookSchema}. */
export type MadeHook = z.infer<typeof madeHookSchema>;

/** Body of a message to a hook. */
export const hookMessageSchema = z.object({
  type: z.enum(['notice.waits', 'notice.mention', 'notice.stale']),
  timestamp: when,
  data: z.object({
    project: z.string(),
    words: z.string(),
    place: noticePlaceSchema,
    /** Accounts that were told, by id. */
    accounts: z.array(z.string()),
    /** Address of the job. */
    url: z.string(),
  }),
});
/** See {@link hookMessageSchema}. */
export type HookMessage = z.infer<typeof hookMessageSchema>;
