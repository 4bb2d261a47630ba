import { Router } from 'express';
import { pointsQuerySchema, type ScanView } from '../../shared/protocol/http.ts';
import { metresPer } from '../metres.ts';
import type { Scan } from '../storage/ports.ts';
import { memberOf } from './access.ts';
import { inShape, partOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

/** GET /api/projects/:id/scans and GET /api/projects/:id/scans/:scan/points?max=. */
export function scanRoutes(parts: HttpParts): Router {
  const { records, blobs, measure } = parts;
  const router = Router();
  router.get('/projects/:id/scans', async (req, res) => {
    const { project } = await memberOf(parts, req, 'read');
    res.json({ scans: (await records.scans(project.id)).map(scanView) });
  });
  router.get('/projects/:id/scans/:scan/points', async (req, res) => {
    const { project } = await memberOf(parts, req, 'read');
    const { max } = inShape(pointsQuerySchema, req.query, 'the query');
    const scan = await records.scan(project.id, partOf(req, 'scan'));
    if (!scan) throw new Refusal('not-found', { detail: 'this project has no such scan' });
    const file = await blobs.localFile(scan.sha256);
    if (file === undefined) throw new Error(`the store has lost the file ${scan.sha256} of scan ${scan.id}`);
    const { name, sha256, unit } = scan;
    const points = await measure.thin({ file, name, sha256, unit, metresPerUnit: metresPer(unit) }, max);
    res.set('Cache-Control', 'private, max-age=3600');
    res.type('application/octet-stream').send(littleEndian(points));
  });
  return router;
}

export function scanView({ projectId: _, ...scan }: Scan): ScanView {
  return scan;
}

/** Float32 as the web reads it, whatever this machine's byte order is. */
function littleEndian(points: Float32Array): Buffer {
  const bytes = Buffer.from(points.buffer, points.byteOffset, points.byteLength);
  const native = new Uint8Array(Uint16Array.of(1).buffer)[0] === 1;
  return native ? bytes : Buffer.from(bytes).swap32();
}
