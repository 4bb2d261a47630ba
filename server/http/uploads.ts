import { mkdir, statfs } from 'node:fs/promises';
import type { IncomingMessage } from 'node:http';
import { join } from 'node:path';
import { FileStore } from '@tus/file-store';
import { Metadata, type Upload } from '@tus/server';
import { type Request, type Response, Router } from 'express';
import { uploadLimit, uploadMetadataSchema } from '../../shared/protocol/http.ts';
import { newId } from '../ambient.ts';
import { memberOf, signedIn } from './access.ts';
import { inShape, partOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';
import { TusServer } from './tus-server.ts';
import { openFinish, type UploadFinish, type UploadOutcome } from './upload-finish.ts';

const WEEK = 7 * 24 * 3_600_000;
/** Left free beside an upload, so that edits can still be kept when it is complete. */
const HEADROOM = 256 * 1024 ** 2;

/**
 * The library's store makes its folder by itself, waits for nothing and throws where nobody can catch it. Here the folder is made, and its
 * failure reported, before there is a store; the method is private to the library's types, hence the definition on the prototype.
 */
class UploadStore extends FileStore {}
Object.defineProperty(UploadStore.prototype, 'checkOrCreateDirectory', { value: () => undefined });

export interface Uploads {
  readonly router: Router;
  sweep(): Promise<void>;
}

/** Resumable uploads (tus 1.0) at /api/uploads, and GET /api/uploads/:id/result for how one ended. */
export async function openUploads(parts: HttpParts): Promise<Uploads> {
  const folder = join(parts.config.dataDir, 'uploads');
  await mkdir(folder, { recursive: true });
  const store = new UploadStore({ directory: folder, expirationPeriodInMilliseconds: WEEK });
  const finish = await openFinish(parts, join(folder, 'outcomes'));
  const desk: Desk = { parts, store, finish, folder, makers: new WeakMap() };
  const tus = tusServer(desk);
  const router = Router();
  router.post('/', async (req, res) => {
    desk.makers.set(req, await admit(desk, req));
    await tus.handle(req, res);
  });
  router.options(['/', '/:id'], (req, res) => tus.handle(req, res));
  router.get('/:id/result', async (req, res) => {
    signedIn(req);
    sendOutcome(res, await resultOf(desk, req));
  });
  router.head('/:id', async (req, res) => {
    signedIn(req);
    const ended = await finish.outcome(idOf(req));
    if (ended) answerEnded(res, await ownOutcome(req, ended));
    else await onlyOwn(desk, req).then(() => tus.handle(req, res));
  });
  router.patch('/:id', (req, res) => onlyOwn(desk, req).then(() => tus.handle(req, res)));
  router.delete('/:id', (req, res) => onlyOwn(desk, req).then(() => tus.handle(req, res)));
  const sweep = async () => {
    await store.deleteExpired();
    await finish.sweep(WEEK);
  };
  return { router, sweep };
}

interface Desk {
  readonly parts: HttpParts;
  readonly store: FileStore;
  readonly finish: UploadFinish;
  readonly folder: string;
  /** Who makes an upload: the library passes its hook the request, but nothing of ours. */
  readonly makers: WeakMap<IncomingMessage, string>;
}

function tusServer({ parts, store, finish, folder, makers }: Desk): TusServer {
  return new TusServer({
    path: '/api/uploads',
    datastore: store,
    maxSize: uploadLimit,
    relativeLocation: true,
    allowedOrigins: () => false,
    namingFunction: () => newId(parts.random),
    onUploadCreate: async (req, upload) => {
      const node = req.runtime?.node?.req;
      const account = node && makers.get(node as IncomingMessage);
      if (account === undefined) throw new Error('an upload was made without anybody making it');
      // Ours replaces whatever the client wrote under that key.
      return { metadata: { ...upload.metadata, account } };
    },
    onUploadFinish: async (req, upload) => {
      const account = accountOf(upload.metadata);
      const { ended } = await finish.finish({
        id: upload.id,
        file: join(folder, upload.id),
        account,
        metadata: upload.metadata,
      });
      await store.configstore.delete(upload.id);
      if (ended.kind === 'refused') throw { status_code: 422, body: JSON.stringify(ended.problem) };
      return {
        status_code: req.method === 'POST' ? 201 : 200,
        headers: { 'Content-Type': 'application/json; charset=utf-8' },
        body: JSON.stringify(ended.result),
      };
    },
    onResponseError: (_req, error) => {
      if (error instanceof Error) parts.alarm(error, 'upload');
      return undefined;
    },
  });
}

/** Everything that can be known before the first byte is checked before it; returns the maker's account id. */
async function admit({ parts }: Desk, req: Request): Promise<string> {
  signedIn(req);
  const { project } = inShape(uploadMetadataSchema, readMetadata(req), 'the upload’s metadata');
  const { account } = await memberOf(parts, req, 'upload', project);
  const length = Number(req.get('upload-length') ?? Number.NaN);
  if (!Number.isSafeInteger(length) || length < 0) {
    const came = req.get('upload-length') ?? 'no Upload-Length header';
    throw new Refusal('bad-request', {
      detail: 'the file’s size is not given',
      expected: 'Upload-Length in bytes',
      came,
    });
  }
  if (length === 0) {
    throw new Refusal('empty-file', {
      detail: 'nothing was uploaded',
      expected: 'a file with a scan or a part',
      came: '0 bytes',
    });
  }
  if (length > uploadLimit) {
    const expected = `at most ${uploadLimit} bytes (5 GiB)`;
    throw new Refusal('too-large', { detail: 'the file is too large', expected, came: `${length} bytes` });
  }
  const { bavail, bsize } = await statfs(parts.config.dataDir);
  if (bavail * bsize < length + HEADROOM) {
    const expected = `${length + HEADROOM} bytes free`;
    throw new Refusal('no-space', {
      detail: 'the server’s disk is nearly full',
      expected,
      came: `${bavail * bsize} bytes free`,
    });
  }
  return account.id;
}

function readMetadata(req: Request): unknown {
  try {
    return Metadata.parse(req.get('upload-metadata') ?? '');
  } catch {
    throw new Refusal('bad-request', {
      detail: 'the Upload-Metadata header could not be read',
      expected: 'project, filename and unit, each with its value in base64',
      came: req.get('upload-metadata') ?? 'no such header',
    });
  }
}

/** Whoever made it, while they still may upload there: a role taken away ends uploads under way. */
async function onlyOwn({ parts, store }: Desk, req: Request): Promise<Upload> {
  const { account } = signedIn(req);
  const upload = await store.configstore.get(idOf(req));
  if (!upload || accountOf(upload.metadata) !== account.id) throw notYours();
  const { project } = uploadMetadataSchema.parse(upload.metadata);
  await memberOf(parts, req, 'upload', project);
  return upload;
}

async function ownOutcome(req: Request, outcome: UploadOutcome): Promise<UploadOutcome> {
  const { account } = signedIn(req);
  if (outcome.account !== account.id) throw notYours();
  return outcome;
}

async function resultOf(desk: Desk, req: Request): Promise<UploadOutcome> {
  const ended = await desk.finish.outcome(idOf(req));
  if (ended) return ownOutcome(req, ended);
  const { id, metadata } = await onlyOwn(desk, req);
  const { offset, size } = await desk.store.getUpload(id);
  if (offset !== size) {
    const came = `${offset} of ${size} bytes`;
    throw new Refusal('upload-offset', { detail: 'the upload is not complete yet', expected: 'all bytes', came });
  }
  // All bytes were here when the server stopped: finish what it had begun.
  return desk.finish.finish({ id, file: join(desk.folder, id), account: accountOf(metadata), metadata });
}

function sendOutcome(res: Response, { ended }: UploadOutcome): void {
  if (ended.kind === 'kept') res.json(ended.result);
  else res.status(422).type('application/problem+json').send(JSON.stringify(ended.problem));
}

/** The file has moved on, but a client that lost the last answer still asks how far it got: all the way. */
function answerEnded(res: Response, { bytes }: UploadOutcome): void {
  res
    .set({ 'Tus-Resumable': '1.0.0', 'Upload-Offset': String(bytes), 'Upload-Length': String(bytes) })
    .status(200)
    .end();
}

function accountOf(metadata: Upload['metadata']): string {
  return metadata?.account ?? '';
}

/** An id from an address never becomes a path. */
function idOf(req: Request): string {
  const id = partOf(req, 'id');
  if (!/^[\w-]{22}$/.test(id)) throw notYours();
  return id;
}

function notYours(): Refusal {
  return new Refusal('not-found', { detail: 'you have no such upload' });
}
