import { mkdir, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { problem, problemSchema } from '../../shared/protocol/errors.ts';
import { uploadMetadataSchema, uploadResultSchema } from '../../shared/protocol/http.ts';
import { isoTime, newId } from '../ambient.ts';
import { metresPer } from '../metres.ts';
import { syncAndHash } from '../storage/durable-file.ts';
import type { HttpParts } from './parts.ts';
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
    z.object({ kind: z.literal('kept'), result: uploadResultSchema }),
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
async function conclude(parts: HttpParts, { file, account, metadata }: WholeUpload): Promise<UploadOutcome> {
  const { measure, blobs, records, clock, random } = parts;
  const { project, filename: name, unit } = uploadMetadataSchema.parse(metadata);
  const { sha256, bytes } = await syncAndHash(file);
  const reading = await measure.readScan({ file, name, sha256, unit, metresPerUnit: metresPer(unit) });
  const at = isoTime(clock());
  if (reading.kind === 'problem') {
    await rm(file, { force: true });
    const { kind: _, message: detail, ...rest } = reading;
    return { account, at, bytes, ended: { kind: 'refused', problem: problem('unreadable-scan', { detail, ...rest }) } };
  }
  await blobs.adopt(file);
  const { kind: _, ...figures } = reading;
  const id = newId(random);
  const own = { id, projectId: project, sha256, name, bytes, unit, uploadedBy: account, createdAt: at };
  const scan = await records.addScan({ ...own, ...figures });
  await parts.live.scanAdded(project).catch((error) => parts.alarm(error, 'telling the project of a new scan'));
  return { account, at, bytes, ended: { kind: 'kept', result: { scan: scanView(scan), known: scan.id !== id } } };
}
