import { type Request, type RequestHandler, type Response, Router, raw } from 'express';
import type { PhotoView } from '../../shared/protocol/photos.ts';
import { isoTime } from '../ambient.ts';
import { PHOTO_BYTES, photoIntake } from '../photos.ts';
import type { Photo } from '../storage/photos.ts';
import { type Access, memberOf } from './access.ts';
import { partOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

/** POST /api/projects/:id/photos with a photo as its body; GET .../photos/:sha and .../photos/:sha/thumb. Before the reader of JSON bodies. */
export function photoRoutes(parts: HttpParts): Router {
  const router = Router();
  const intake = photoIntake(parts.blobs);
  const allowed = new WeakMap<Request, Access>();
  // Whoever may not bring one is told so before 25 MB of it were read.
  const member: RequestHandler = async (req, _res, next) => {
    allowed.set(req, await memberOf(parts, req, 'editSpec'));
    next();
  };
  router.post(
    '/projects/:id/photos',
    member,
    raw({ type: () => true, limit: PHOTO_BYTES, inflate: false }),
    async (req, res) => {
      const access = allowed.get(req);
      if (!access) throw new Error('a photo passed by without its member');
      const body: unknown = req.body;
      const kept = await intake(Buffer.isBuffer(body) ? body : new Uint8Array());
      if ('problem' in kept) {
        const { problem: detail, ...about } = kept;
        throw new Refusal('unreadable-photo', { detail, ...about });
      }
      const { account, project } = access;
      const row = { projectId: project.id, ...kept, by: account.id, at: isoTime(parts.clock()) };
      res.status(201).json(photoView(await parts.records.addPhoto(row)));
    },
  );
  router.get('/projects/:id/photos/:sha', async (req, res) => {
    const photo = await photoAsked(parts, req);
    await send(parts, res, { photo, sha256: photo.sha256 });
  });
  router.get('/projects/:id/photos/:sha/thumb', async (req, res) => {
    const photo = await photoAsked(parts, req);
    await send(parts, res, { photo, sha256: photo.thumb });
  });
  return router;
}

function photoView({ sha256, width, height, bytes, by, at }: Photo): PhotoView {
  return { sha256, width, height, bytes, by, at };
}

async function photoAsked(parts: HttpParts, req: Request): Promise<Photo> {
  const { project } = await memberOf(parts, req, 'read');
  const photo = await parts.records.photo(project.id, partOf(req, 'sha'));
  if (!photo) throw new Refusal('not-found', { detail: 'this project has no such photo' });
  return photo;
}

async function send(
  { blobs }: HttpParts,
  res: Response,
  { photo, sha256 }: { readonly photo: Photo; readonly sha256: string },
): Promise<void> {
  const bytes = await blobs.read(sha256);
  if (!bytes) throw new Error(`the store has lost the photo ${sha256}`);
  res.set({
    'Content-Type': 'image/jpeg',
    'Content-Disposition': `inline; filename="photo-${photo.sha256.slice(0, 16)}.jpg"`,
    // Opened by itself it is a picture and nothing else, whatever stands in it.
    'Content-Security-Policy': "default-src 'none'; sandbox",
    'Cache-Control': 'private, max-age=31536000, immutable',
  });
  bytes.on('error', (error) => res.destroy(error)).pipe(res);
}
