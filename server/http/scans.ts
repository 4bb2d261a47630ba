import { type Request, type Response, Router } from 'express';
import type { ScanView } from '../../shared/protocol/http.ts';
import { nearnessQuerySchema } from '../../shared/protocol/nearness.ts';
import { tileStretchSchema } from '../../shared/protocol/tiles.ts';
import { readSpec } from '../../shared/spec/reader.ts';
import { metresPer } from '../metres.ts';
import type { Scan } from '../storage/ports.ts';
import { memberOf } from './access.ts';
import { inShape, partOf } from './input.ts';
import type { HttpParts, ScanFile, TiledScan } from './parts.ts';
import { Refusal } from './refusal.ts';

/** What is being measured is asked for again after, s. */
const ASK_AGAIN = 1;

/**
 * GET /api/projects/:id/scans, and of each .../tiles (the index), .../tiles/:stamp/:from-:end (bytes of tiles), .../nearness?placed= (how
 * near the header is) and .../nearness/:name/:from-:end (a byte a point).
 */
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
    const stretch = await bytes(...within(req, length, 'the tiles end sooner'));
    sendForGood(res, stretch);
  });
  nearnessRoutes(parts, router);
  return router;
}

function nearnessRoutes(parts: HttpParts, router: Router): void {
  router.get('/projects/:id/scans/:scan/nearness', async (req, res) => {
    const { scan, project } = await scanAsked(parts, req);
    const { placed } = inShape(nearnessQuerySchema, req.query, 'the query');
    const spec = readSpec(await parts.live.entries(project));
    const asked = parts.nearness.ask(scan, { project, spec, placed });
    if (asked.state === 'pending') res.status(202).set('Retry-After', String(ASK_AGAIN));
    res.json(asked);
  });
  router.get('/projects/:id/scans/:scan/nearness/:name/:stretch', async (req, res) => {
    const { scan } = await scanAsked(parts, req);
    const levels = parts.nearness.levels(scan, partOf(req, 'name'));
    if (!levels)
      throw new Refusal('not-found', {
        detail: 'no answer of this name is kept: ask how near the header is again',
        expected: 'the name of an answer of late',
        came: partOf(req, 'name').slice(0, 40),
      });
    sendForGood(res, levels.subarray(...within(req, levels.length, 'the points end sooner')));
  });
}

function sendForGood(res: Response, bytes: Uint8Array): void {
  res.set('Cache-Control', 'private, max-age=31536000, immutable');
  res.type('application/octet-stream').send(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength));
}

/** The stretch of the address, when all of it is there. */
function within(req: Request, length: number, detail: string): [from: number, end: number] {
  const { from, end } = inShape(tileStretchSchema, partOf(req, 'stretch'), 'the stretch');
  if (end > length) throw new Refusal('bad-request', { detail, expected: `an end up to ${length}`, came: `${end}` });
  return [from, end];
}

/** The tiles of the scan of the address, for a member. */
async function tiled(parts: HttpParts, req: Request): Promise<TiledScan> {
  return parts.measure.tiles((await scanAsked(parts, req)).scan);
}

/** The scan of the address, for a member of the project. */
async function scanAsked(
  parts: HttpParts,
  req: Request,
): Promise<{ readonly scan: ScanFile; readonly project: string }> {
  const { project } = await memberOf(parts, req, 'read');
  const scan = await parts.records.scan(project.id, partOf(req, 'scan'));
  if (!scan) throw new Refusal('not-found', { detail: 'this project has no such scan' });
  const file = await parts.blobs.localFile(scan.sha256);
  if (file === undefined) throw new Error(`the store has lost the file ${scan.sha256} of scan ${scan.id}`);
  const { name, sha256, unit } = scan;
  return { scan: { file, name, sha256, unit, metresPerUnit: metresPer(unit) }, project: project.id };
}

export function scanView({ projectId: _, ...scan }: Scan): ScanView {
  return scan;
}
