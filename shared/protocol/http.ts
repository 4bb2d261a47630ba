import { z } from 'zod';
import { roles } from './roles.ts';

/** Longest accepted name of a person, project or file, in characters. */
export const nameLimit = 120;
/** Longest accepted login, in characters. */
export const loginLimit = 64;
/** Longest accepted password, in characters; the policy's lower limit is checked where accounts are made. */
export const passwordLimit = 256;
/** Largest accepted JSON body, bytes. */
export const jsonLimit = 256 * 1024;
/** Largest accepted scan file, bytes (5 GiB). */
export const uploadLimit = 5 * 1024 ** 3;
/** Points sent for the scene when the request names no number, and the most it may ask for. */
export const pointsDefault = 200_000;
/** The most points one request may ask for: 24 MB of Float32 x, y, z. */
export const pointsLimit = 2_000_000;

const id = z.string().min(1).max(64);
const when = z.iso.datetime();
const role = z.enum(roles);
/** Text a person types as a name: trimmed, one line, no control characters. */
const name = z
  .string()
  .transform((text) => text.normalize('NFC').trim())
  .refine((text) => text.length >= 1 && text.length <= nameLimit, `1 to ${nameLimit} characters`)
  .refine((text) => !/\p{Cc}/u.test(text), 'one line without control characters');
/** Letters, digits, dot, dash, underscore and @; compared without case. */
const login = z
  .string()
  .transform((text) => text.normalize('NFC').trim().toLowerCase())
  .refine((text) => text.length >= 1 && text.length <= loginLimit, `1 to ${loginLimit} characters`)
  .refine((text) => /^[\p{L}\p{N}._@-]+$/u.test(text), 'letters, digits, dot, dash, underscore or @');
const password = z.string().min(1).max(passwordLimit);

/** A person as the signed-in person may see them. */
export const accountSchema = z.object({ id, login: z.string(), name: z.string() });
/** Body of POST /api/session. */
export const signInSchema = z.strictObject({ login, password });
/** Answer of GET and POST /api/session. `setup` is true while the server has no account at all. */
export const sessionSchema = z.object({ account: accountSchema.nullable(), setup: z.boolean() });
/** Body of POST /api/setup: the first account, allowed only with the code printed on the server's console. */
export const setupSchema = z.strictObject({ code: z.string().min(1).max(128), name, login, password });

/** Body of POST /api/projects. */
export const newProjectSchema = z.strictObject({ name });
/** A project in a list, with the asker's own roles in it. */
export const projectSchema = z.object({ id, name: z.string(), createdAt: when, roles: z.array(role) });
/** Answer of GET /api/projects. */
export const projectListSchema = z.object({ projects: z.array(projectSchema) });
/** One person's roles in one project. */
export const memberSchema = z.object({ account: accountSchema, roles: z.array(role) });
/** Answer of GET /api/projects/:id. */
export const projectDetailSchema = projectSchema.extend({ members: z.array(memberSchema) });

/** Body of POST /api/projects/:id/invites. */
export const newInviteSchema = z.strictObject({ role });
/** Where an invite stands: only an open one can be accepted. */
export const inviteStates = ['open', 'used', 'revoked', 'expired'] as const;
/** An invite as the lead sees it in the list. The link itself is shown once, when it is made. */
export const inviteSchema = z.object({ id, role, createdAt: when, expiresAt: when, state: z.enum(inviteStates) });
/** Answer of GET /api/projects/:id/invites. */
export const inviteListSchema = z.object({ invites: z.array(inviteSchema) });
/** Answer of POST /api/projects/:id/invites: `token` is shown this once. */
export const madeInviteSchema = inviteSchema.extend({ token: z.string() });
/** Answer of GET /api/invites/:token: what accepting would mean, for whoever holds the link. */
export const offerSchema = z.object({ project: z.string(), inviter: z.string(), role, expiresAt: when });
/** Body of POST /api/invites/:token: a new account, or nothing when the signed-in account accepts. */
export const acceptInviteSchema = z.union([
  z.strictObject({ name, login, password }),
  z.strictObject({ accept: z.literal(true) }),
]);
/** Answer of POST /api/invites/:token. */
export const acceptedInviteSchema = z.object({ projectId: id, account: accountSchema, roles: z.array(role) });

/** Units a scan file may be in; the file itself seldom says. */
export const scanUnits = ['mm', 'cm', 'm', 'in'] as const;
/** One of {@link scanUnits}. */
export const scanUnitSchema = z.enum(scanUnits);
/** x, y, z in metres. */
const point = z.tuple([z.number(), z.number(), z.number()]);
/** Axis-aligned box around a scan, metres. */
export const boundsSchema = z.object({ min: point, max: point });
/** An uploaded scan. bytes and sha256 are of the file as it came; bounds and spacing in metres. */
export const scanSchema = z.object({
  id,
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  name: z.string(),
  bytes: z.number().int().nonnegative(),
  points: z.number().int().nonnegative(),
  format: z.string(),
  unit: scanUnitSchema,
  bounds: boundsSchema,
  /** Median distance between neighbouring points, metres; null when the reader could not tell. */
  spacing: z.number().positive().nullable(),
  uploadedBy: id,
  createdAt: when,
});
/** Answer of GET /api/projects/:id/scans. */
export const scanListSchema = z.object({ scans: z.array(scanSchema) });
/** Upload-Metadata of POST /api/uploads, after the protocol's base64 is undone. */
export const uploadMetadataSchema = z.object({ project: id, filename: name, unit: scanUnitSchema });
/** Answer of the last PATCH of an upload and of GET /api/uploads/:id/result. `known` means the same file was here already. */
export const uploadResultSchema = z.object({ scan: scanSchema, known: z.boolean() });

/** Query of GET /api/projects/:id/scans/:id/points. */
export const pointsQuerySchema = z.object({
  max: z.coerce.number().int().min(1).max(pointsLimit).default(pointsDefault),
});

/** Answer of GET /healthz. */
export const healthSchema = z.object({ up: z.literal(true) });
/** Answer of GET /readyz: one entry per check, `fault` says what is wrong. */
export const readinessSchema = z.object({
  ready: z.boolean(),
  checks: z.array(z.object({ name: z.string(), fault: z.string().nullable() })),
});

/** See {@link accountSchema}. */
export type AccountView = z.infer<typeof accountSchema>;
/** See {@link sessionSchema}. */
export type SessionView = z.infer<typeof sessionSchema>;
/** See {@link projectSchema}. */
export type ProjectView = z.infer<typeof projectSchema>;
/** See {@link projectDetailSchema}. */
export type ProjectDetail = z.infer<typeof projectDetailSchema>;
/** See {@link inviteSchema}. */
export type InviteView = z.infer<typeof inviteSchema>;
/** See {@link madeInviteSchema}. */
export type MadeInvite = z.infer<typeof madeInviteSchema>;
/** See {@link offerSchema}. */
export type Offer = z.infer<typeof offerSchema>;
/** See {@link acceptedInviteSchema}. */
export type AcceptedInvite = z.infer<typeof acceptedInviteSchema>;
/** See {@link scanUnitSchema}. */
export type ScanUnit = z.infer<typeof scanUnitSchema>;
/** See {@link boundsSchema}. */
export type Bounds = z.infer<typeof boundsSchema>;
/** See {@link scanSchema}. */
export type ScanView = z.infer<typeof scanSchema>;
/** See {@link uploadResultSchema}. */
export type UploadResult = z.infer<typeof uploadResultSchema>;
