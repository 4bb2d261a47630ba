import { type Request, type Response, Router } from 'express';
import { z } from 'zod';
import {
  type AskedPoses,
  type AskedReport,
  type ExportFormat,
  type MendedPart,
  meshQuerySchema,
  type PartView,
  posesQuerySchema,
} from '../../shared/protocol/http.ts';
import type { Operation } from '../../shared/protocol/roles.ts';
import { runnerTubes } from '../../shared/quantities/tubeShapes.ts';
import { readSpec } from '../../shared/spec/reader.ts';
import { selfSupportingAngles } from '../../shared/trade/data/print-limits.ts';
import { isoTime, newId } from '../ambient.ts';
import { metresPer } from '../metres.ts';
import type { Part } from '../storage/ports.ts';
import { memberOf, signedIn } from './access.ts';
import { inShape, partOf } from './input.ts';
import type { HttpParts, PartFile } from './parts.ts';
import { Refusal } from './refusal.ts';

/** As registered for these forms; a 3MF or STL file's is what slicers ask for. */
const mediaTypes: Readonly<Record<ExportFormat, string>> = {
  stl: 'model/stl',
  '3mf': 'model/3mf',
  glb: 'model/gltf-binary',
  ply: 'application/octet-stream',
};

/** What a part is asked about again after, s. */
const ASK_AGAIN = 1;

/** GET /api/projects/:id/parts, and of each .../mesh?format=, .../report and .../poses?alloy=; POST .../mended makes a mended copy. */
export function partRoutes(parts: HttpParts): Router {
  const { records, meshes } = parts;
  const router = Router();
  router.get('/projects/:id/parts', async (req, res) => {
    const { project } = await memberOf(parts, req, 'read');
    res.json({ parts: (await records.parts(project.id)).map(partView) });
  });
  router.get('/projects/:id/parts/:part/mesh', async (req, res) => {
    const { query, file, part } = await asked(parts, req, { schema: meshQuerySchema, operation: 'export' });
    const { format, turn } = query;
    const bytes = await meshes.exportPart(file, { format, ...(turn && { turn }) });
    // A part never changes: another file is another part.
    res.set('Cache-Control', 'private, max-age=31536000, immutable');
    res.attachment(`${part.name.replace(/\.[^.]*$/, '')}.${format}`);
    res.type(mediaTypes[format]).send(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength));
  });
  router.get('/projects/:id/parts/:part/report', async (req, res) => {
    const { file } = await asked(parts, req, { schema: z.object({}), operation: 'read' });
    answer(res, await meshes.report(file));
  });
  router.post('/projects/:id/parts/:part/mended', async (req, res) => {
    const { part, file } = await asked(parts, req, { schema: z.object({}), operation: 'upload' });
    const { account } = signedIn(req);
    res.status(201).json(await mendedCopy(parts, { part, file, by: account.id }));
  });
  router.get('/projects/:id/parts/:part/poses', async (req, res) => {
    const { query, file, part } = await asked(parts, req, { schema: posesQuerySchema, operation: 'read' });
    const tubes = runnerTubes(readSpec(await parts.live.entries(part.projectId)));
    answer(res, await meshes.poses(file, { overhang: selfSupportingAngles[query.alloy ?? 'any'].start, tubes }));
  });
  return router;
}

interface Mending {
  readonly part: Part;
  readonly file: PartFile;
  readonly by: string;
}

/** The mended copy of a part, kept as a part of its own; the part stays as it was brought. */
async function mendedCopy(parts: HttpParts, { part, file, by }: Mending): Promise<MendedPart> {
  const { records, blobs, meshes } = parts;
  const { bytes, account } = await meshes.mended(file);
  const { sha256 } = await blobs.write(bytes);
  const stored = await blobs.localFile(sha256);
  if (stored === undefined) throw new Error(`the store has lost the file ${sha256} it just wrote`);
  const name = `${part.name.replace(/\.[^.]*$/, '')} mended.ply`;
  const reading = await meshes.readPart({ file: stored, name, sha256, unit: 'mm', metresPerUnit: metresPer('mm') });
  if (reading.kind === 'problem') throw new Error(`a mended part cannot be read: ${reading.message}`);
  const { kind: _, ...figures } = reading;
  const own = { id: newId(parts.random), projectId: part.projectId, sha256, name, bytes: bytes.byteLength };
  const made = await records.addPart({ ...own, uploadedBy: by, createdAt: isoTime(parts.clock()), ...figures });
  await parts.live.partAdded(part.projectId).catch((error) => parts.alarm(error, 'telling the project of a new part'));
  return { part: partView(made), account };
}

export function partView({ projectId: _, ...part }: Part): PartView {
  return part;
}

interface Asking<S extends z.ZodType> {
  readonly schema: S;
  readonly operation: Operation;
}

interface AskedPart<S extends z.ZodType> {
  readonly part: Part;
  readonly file: PartFile;
  readonly query: z.output<S>;
}

/** The part of the address, for a member who may do this with it. */
async function asked<S extends z.ZodType>(
  parts: HttpParts,
  req: Request,
  { schema, operation }: Asking<S>,
): Promise<AskedPart<S>> {
  const { project } = await memberOf(parts, req, operation);
  const query = inShape(schema, req.query, 'the query');
  const part = await parts.records.part(project.id, partOf(req, 'part'));
  if (!part) throw new Refusal('not-found', { detail: 'this project has no such part' });
  const { name, sha256, unit } = part;
  const file = await parts.blobs.localFile(sha256);
  if (file === undefined) throw new Error(`the store has lost the file ${sha256} of part ${part.id}`);
  return { query, part, file: { file, name, sha256, unit, metresPerUnit: metresPer(unit) } };
}

function answer(res: Response, asked: AskedReport | AskedPoses): void {
  if (asked.state === 'pending') res.status(202).set('Retry-After', String(ASK_AGAIN));
  res.json(asked);
}
