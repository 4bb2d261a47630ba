import { z } from 'zod';
import { printAlloyOptions } from '../spec/rows/options.ts';
import { roles } from './roles.ts';

/** Longest accepted name of a person, project or file, in characters. */
export const nameLimit = 120;
/** Longest accepted login, in characters. */
export const loginLimit = 64;
/** Longest accepted password, in characters; the policy's lower limit is checked where accounts are made. */
export const passwordLimit = 256;
/** Largest accepted JSON body, bytes. */
export const jsonLimit = 256 * 1024;
/** Largest accepted file of a scan or a part, bytes (5 GiB). */
export const uploadLimit = 5 * 1024 ** 3;
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
  /** Points of the file without a place, which were left out; null or missing for a scan read before they were counted. */
  unplaced: z.number().int().nonnegative().nullable().optional(),
  uploadedBy: id,
  createdAt: when,
});
/** Answer of GET /api/projects/:id/scans. */
export const scanListSchema = z.object({ scans: z.array(scanSchema) });
/** What an uploaded file is for: a scan of the bay, or a part whose surface is judged and shown. */
export const uploadUses = ['scan', 'part'] as const;
/** Upload-Metadata of POST /api/uploads, after the protocol's base64 is undone. */
export const uploadMetadataSchema = z.object({
  project: id,
  filename: name,
  unit: scanUnitSchema,
  use: z.enum(uploadUses).default('scan'),
});
/** Answer of the last PATCH of a scan's upload and of GET /api/uploads/:id/result. `known` means the same file was here already. */
export const uploadResultSchema = z.object({ scan: scanSchema, known: z.boolean() });

/** An uploaded part. bytes and sha256 are of the file as it came; bounds in metres. */
export const partSchema = z.object({
  id,
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  name: z.string(),
  bytes: z.number().int().nonnegative(),
  triangles: z.number().int().nonnegative(),
  format: z.string(),
  /** Names the part together with sha256. Unit of the numbers in the file, unless unitStated: then the file's own counts. */
  unit: scanUnitSchema,
  unitStated: z.boolean(),
  bounds: boundsSchema,
  uploadedBy: id,
  createdAt: when,
});
/** Answer of GET /api/projects/:id/parts. */
export const partListSchema = z.object({ parts: z.array(partSchema) });
/** As {@link uploadResultSchema}, of a part's upload. */
export const partResultSchema = z.object({ part: partSchema, known: z.boolean() });

/** Forms in which a part can be taken away; all in metres or with their unit stated, but STL, which is in millimetres. */
export const exportFormats = ['stl', '3mf', 'glb', 'ply'] as const;
const turn = z.number().min(-Math.PI).max(Math.PI);
/** Query of GET /api/projects/:id/parts/:part/mesh: the form, and turns about X, then Y, then Z as `x,y,z` in radians for one set on z = 0. */
export const meshQuerySchema = z.object({
  format: z.enum(exportFormats),
  turn: z
    .string()
    .transform((text) => text.split(',').map((one) => (one.trim() === '' ? Number.NaN : Number(one))))
    .pipe(z.tuple([turn, turn, turn]))
    .optional(),
});
/** Query of GET /api/projects/:id/parts/:part/poses: the powder, which sets the angle that needs support. */
export const posesQuerySchema = z.object({ alloy: z.enum(printAlloyOptions).optional() });

const count = z.number().int().nonnegative();
/** What is wrong with a part's mesh, counts unless said; nothing has been repaired. */
export const meshReportSchema = z.object({
  triangles: count,
  openEdges: count,
  nonManifoldEdges: count,
  flippedEdges: count,
  shells: count,
  selfIntersections: count,
  /** False when the search for crossings was stopped at its limits: then a zero says nothing. */
  selfIntersectionsComplete: z.boolean(),
  degenerate: count,
  duplicate: count,
  holes: count,
  /** Signed, m3: negative when the surface as a whole is inside out. Of no meaning while edges are open. */
  volume: z.number(),
  /** m2. */
  area: z.number(),
  /** One place where something is wrong with an edge or triangles cross, metres; null when there is none. */
  at: point.nullable(),
});
/** What mending a part did; counts. */
export const mendAccountSchema = z.object({
  weldedVertices: count,
  droppedDegenerate: count,
  droppedDuplicate: count,
  turnedTriangles: count,
  /** Edges at which the triangles could not be made to agree. */
  unturnable: count,
});
/** See {@link mendAccountSchema}. */
export type MendAccount = z.infer<typeof mendAccountSchema>;
/** Answer of POST /api/projects/:id/parts/:part/mended: the copy is a part of its own. */
export const mendedPartSchema = z.object({ part: partSchema, account: mendAccountSchema });
/** See {@link mendedPartSchema}. */
export type MendedPart = z.infer<typeof mendedPartSchema>;

/** A way to stand a part on the build plate; lengths in metres, areas in m2, volumes in m3. */
export const buildPoseSchema = z.object({
  /** Turns about the fixed axes X, then Y, then Z, radians: as a piece of the spec holds them. */
  turn: point,
  height: z.number(),
  /** From the faces that need support straight down to the part or the plate. */
  supportToPart: z.number(),
  /** From those faces straight down to the plate, through everything in between. */
  supportToPlate: z.number(),
  /** Of the faces that need support, and of those that lie on the plate. */
  downskinArea: z.number(),
  plateArea: z.number(),
  /** Least angle between the plate and a runner's bore that runs through the part, radians; null when none does. */
  leastBoreAngle: z.number().nullable(),
});
/** The answer about something that is being measured: with 202 while `pending`; `failed` says why in words. */
export const asked = <T extends z.ZodType>(result: T) =>
  z.discriminatedUnion('state', [
    z.object({ state: z.literal('pending') }),
    z.object({ state: z.literal('done'), result }),
    z.object({ state: z.literal('failed'), reason: z.string() }),
  ]);
/** Answer of GET /api/projects/:id/parts/:part/report. */
export const askedReportSchema = asked(meshReportSchema);
/** Answer of GET /api/projects/:id/parts/:part/poses, best first. */
export const askedPosesSchema = asked(
  z.object({ overhang: z.number(), volume: z.number(), poses: z.array(buildPoseSchema) }),
);

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
/** See {@link partSchema}. */
export type PartView = z.infer<typeof partSchema>;
/** One of {@link exportFormats}. */
export type ExportFormat = (typeof exportFormats)[number];
/** See {@link meshReportSchema}. */
export type MeshReportView = z.infer<typeof meshReportSchema>;
/** See {@link buildPoseSchema}. */
export type BuildPose = z.infer<typeof buildPoseSchema>;
/** See {@link askedReportSchema}. */
export type AskedReport = z.infer<typeof askedReportSchema>;
/** See {@link askedPosesSchema}. */
export type AskedPoses = z.infer<typeof askedPosesSchema>;
