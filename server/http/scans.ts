import { type Request, Router } from 'express';
import type { ScanView } from '../../shared/protocol/http.ts';
import { tileStretchSchema } from '../../shared/protocol/tiles.ts';
import { metresPer } from '../metres.ts';
import type { Scan } from '../storage/ports.ts';
import { memberOf } from './access.ts';
import { inShape, partOf } from './input.ts';
import type { HttpParts, TiledScan } from './parts.ts';
import { Refusal } from './refusal.ts';

/** GET /api/projects/:id/scans, and of each .../tiles (the index) and .../tiles/:stamp/:from-:end (bytes of tiles). */
export function scanRoutes(parts: HttpParts): Router {
  const { records } = parts;
  const router = Router();
  router.get('/projects/:id/scans', async (req, res) => {
    const { project } = await memberOf(parts, req, 'read');
    res.json({ scans: (await records.scans(project.id)).map(scanView) });
  });
  router.get('/projects/:id/scans/:scan/tiles', async (req, res) => {
    const { index } = await tiled(parts, req);
    // Asked for again each time, and sent again only when it has changed: the stamp in it names what may be kept for good.
    res.set('Cache-Control', 'private, no-cache').json(index);
  });
  router.get('/projects/:id/scans/:scan/tiles/:stamp/:stretch', async (req, res) => {
    const { index, length, bytes } = await tiled(parts, req);
    if (partOf(req, 'stamp') !== index.stamp) {
      const came = partOf(req, 'stamp');
      throw new Refusal('not-found', {
        detail: 'the tiles were made anew: read their index again',
        expected: index.stamp,
        came,
      });
    }
    const { from, end } = inShape(tileStretchSchema, partOf(req, 'stretch'), 'the stretch');
    if (end > length)
      throw new Refusal('bad-request', {
        detail: 'the tiles end sooner',
        expected: `an end up to ${length}`,
        came: `${end}`,
      });
    const stretch = await bytes(from, end);
    res.set('Cache-Control', 'private, max-age=31536000, immutable');
    res.type('application/octet-stream').send(Buffer.from(stretch.buffer, stretch.byteOffset, stretch.byteLength));
  });
  return router;
}

/** The tiles of the scan of the address, for a member. */
async function tiled(parts: HttpParts, req: Request): Promise<TiledScan> {
  const { project } = await memberOf(parts, req, 'read');
  const scan = await parts.records.scan(project.id, partOf(req, 'scan'));
  if (!scan) throw new Refusal('not-found', { detail: 'this project has no such scan' });
  const file = await parts.blobs.localFile(scan.sha256);
  if (file === undefined) throw new Error(`the store has lost the file ${scan.sha256} of scan ${scan.id}`);
  const { name, sha256, unit } = scan;
  return parts.measure.tiles({ file, name, sha256, unit, metresPerUnit: metresPer(unit) });
}

export function scanView({ projectId: _, ...scan }: Scan): ScanView {
  return scan;
}
