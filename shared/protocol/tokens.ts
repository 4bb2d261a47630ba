import { z } from 'zod';
import type { Operation } from './roles.ts';

/** What a token can be made for. Signing, plans, concessions, people and keys are never a script's to do. */
export const tokenScopes = ['read', 'edit', 'comment', 'upload', 'export'] as const;
/** One of {@link tokenScopes}. */
export type TokenScope = (typeof tokenScopes)[number];

/** The operation of the authority table that a scope allows, as far as its owner's roles do too. */
export const scopeOperation: Readonly<Record<TokenScope, Operation>> = {
  read: 'read',
  edit: 'editSpec',
  comment: 'comment',
  upload: 'upload',
  export: 'export',
};

/** Longest life of a token, ms (own: one year). */
export const tokenLife = 366 * 24 * 3_600_000;
/** What a token begins with: secret scanners and people know it by that. */
export const tokenMark = 'sj_';

const when = z.iso.datetime();
const scopes = z
  .array(z.enum(tokenScopes))
  .min(1)
  .max(tokenScopes.length)
  .transform((list) => tokenScopes.filter((scope) => list.includes(scope)));

/** Body of POST /api/projects/:id/tokens. The end is required. */
export const newTokenSchema = z.strictObject({
  name: z
    .string()
    .transform((text) => text.normalize('NFC').trim())
    .refine((text) => text.length >= 1 && text.length <= 60, '1 to 60 characters'),
  scopes,
  /** ISO 8601 in UTC, at most a year from now. */
  expiresAt: when,
});
/** A token as it is listed: never the token itself. */
export const tokenSchema = z.object({
  id: z.string(),
  name: z.string(),
  owner: z.object({ id: z.string(), name: z.string() }),
  scopes: z.array(z.enum(tokenScopes)),
  createdAt: when,
  expiresAt: when,
  lastUsedAt: when.nullable(),
  revokedAt: when.nullable(),
});
/** Answer of POST /api/projects/:id/tokens: `token` is shown this once. */
export const madeTokenSchema = tokenSchema.extend({ token: z.string() });
/** Answer of GET /api/projects/:id/tokens: one's own, a lead's all; newest first. */
export const tokenListSchema = z.object({ tokens: z.array(tokenSchema) });
/** See {@link tokenSchema}. */
export type TokenView = z.infer<typeof tokenSchema>;
/** See {@link madeTokenSchema}. */
export type MadeToken = z.infer<typeof madeTokenSchema>;
