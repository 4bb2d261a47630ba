import { mkdir, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { type ErrorCode, problem, problemSchema } from '../../shared/protocol/errors.ts';
import { partResultSchema, uploadMetadataSchema, uploadResultSchema } from '../../shared/protocol/http.ts';
import { isoTime, newId } from '../ambient.ts';
import { metresPer } from '../metres.ts';
import { syncAndHash } from '../storage/durable-file.ts';
import type { Part, Scan } from '../storage/ports.ts';
import { partView } from './part-routes.ts';
import type { HttpParts, PartFile, ScanFile } from './parts.ts';
import { scanView } from './scans.ts';

/** All bytes have come; `metadata` is what was checked when the upload was made. */
export interface WholeUpload {
  readonly id: string;
  readonly file: string;
  readonly account: string;
  readonly metadata: unknown;
}

/** How an upload ended; kept for a while, because the answer to its last request may get lost. */
const outcomeSchema = z.object({
  account: z.string(),
  at: z.string(),
  bytes: z.number(),
  ended: z.union([
    z.object({ kind: z.literal('kept'), result: z.union([uploadResultSchema, partResultSchema]) }),
    z.object({ kind: z.literal('refused'), problem: problemSchema }),
  ]),
});
export type UploadOutcome = z.infer<typeof outcomeSchema>;

export interface UploadFinish {
  /** Safe to ask twice, also at once: the second gets the first one's outcome. */
  finish(upload: WholeUpload): Promise<UploadOutcome>;
  outcome(id: string): Promise<UploadOutcome | undefined>;
  /** Forgets outcomes older than `age` ms. */
  sweep(age: number): Promise<void>;
}

export async function openFinish(parts: HttpParts, folder: string): Promise<UploadFinish> {
  await mkdir(folder, { recursive: true });
  const running = new Map<string, Promise<UploadOutcome>>();
  const place = (id: string) => join(folder, `${id}.json`);
  const outcome = async (id: string): Promise<UploadOutcome | undefined> => {
    const text = await readFile(place(id), 'utf8').catch(() => undefined);
    return text === undefined ? undefined : outcomeSchema.parse(JSON.parse(text));
  };
  const run = async (upload: WholeUpload): Promise<UploadOutcome> => {
    const before = await outcome(upload.id);
    if (before) return before;
    const made = await conclude(parts, upload);
    await writeFile(`${place(upload.id)}.new`, JSON.stringify(made));
    await rename(`${place(upload.id)}.new`, place(upload.id));
    return made;
  };
  return {
    outcome,
    finish: (upload) => {
      const already = running.get(upload.id);
      if (already) return already;
      const now = run(upload).finally(() => running.delete(upload.id));
      running.set(upload.id, now);
      return now;
    },
    sweep: async (age) => {
      const oldest = isoTime(parts.clock() - age);
      for (const name of await readdir(folder)) {
        const kept = await outcome(name.replace(/\.json$/, ''));
        if (kept && kept.at < oldest) await rm(join(folder, name), { force: true });
      }
    },
  };
}

/** The upload library never syncs its files: bytes are made safe and hashed before anybody is told they are here. */
async function conclude(parts: HttpParts, upload: WholeUpload): Promise<UploadOutcome> {
  const { file, account } = upload;
  const { project, filename: name, unit, use } = uploadMetadataSchema.parse(upload.metadata);
  const { sha256, bytes } = await syncAndHash(file);
  const at = isoTime(parts.clock());
  const brought = { file, name, sha256, unit, metresPerUnit: metresPer(unit) };
  const own = { projectId: project, sha256, name, bytes, uploadedBy: account, createdAt: at };
  const ended = await (use === 'part' ? keepPart(parts, brought, own) : keepScan(parts, brought, own));
  return { account, at, bytes, ended };
}

type Ended = UploadOutcome['ended'];
/** What is known of an upload before it is read. */
export type Own = Pick<Scan & Part, 'projectId' | 'sha256' | 'name' | 'bytes' | 'uploadedBy' | 'createdAt'>;

/** Reads a scan and keeps its file and its row; a file that cannot be read is removed. A row that is there already stays the only one. */
export async function keepScan(parts: HttpParts, brought: ScanFile, own: Own): Promise<Ended> {
  const reading = await parts.measure.readScan(brought);
  if (reading.kind === 'problem') return refused('unreadable-scan', brought.file, reading);
  await parts.blobs.adopt(brought.file);
  const { kind: _, ...figures } = reading;
  const id = newId(parts.random);
  const scan = await parts.records.addScan({ ...own, id, unit: brought.unit, ...figures });
  await parts.live.scanAdded(own.projectId).catch((error) => parts.alarm(error, 'telling the project of a new scan'));
  return { kind: 'kept', result: { scan: scanView(scan), known: scan.id !== id } };
}

async function keepPart(parts: HttpParts, brought: PartFile, own: Own): Promise<Ended> {
  const reading = await parts.meshes.readPart(brought);
  if (reading.kind === 'problem') return refused('unreadable-part', brought.file, reading);
  await parts.blobs.adopt(brought.file);
  const { kind: _, ...figures } = reading;
  const id = newId(parts.random);
  const part = await parts.records.addPart({ ...own, id, ...figures });
  await parts.live.partAdded(own.projectId).catch((error) => parts.alarm(error, 'telling the project of a new part'));
  return { kind: 'kept', result: { part: partView(part), known: part.id !== id } };
}

async function refused(
  code: ErrorCode,
  file: string,
  { message: detail, expected, came }: { message: string; expected?: string; came?: string },
): Promise<Ended> {
  await rm(file, { force: true });
  const about = { detail, ...(expected !== undefined && { expected }), ...(came !== undefined && { came }) };
  return { kind: 'refused', problem: problem(code, about) };
}
