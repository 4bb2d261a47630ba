import { rm } from 'node:fs/promises';
import { basename } from 'node:path';
import { type Response, Router } from 'express';
import type { z } from 'zod';
import { after, type Motion, undoing } from '../../shared/geometry/motion.ts';
import { motionOf } from '../../shared/geometry/placedScan.ts';
import { nameLimit } from '../../shared/protocol/http.ts';
import { type FittedScan, fitProblem, scanFitWishSchema } from '../../shared/protocol/scanFit.ts';
import { isoTime } from '../ambient.ts';
import { metresPer } from '../metres.ts';
import { syncAndHash } from '../storage/durable-file.ts';
import { memberOf } from './access.ts';
import { bodyOf, inShape } from './input.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';
import { type ScanPair, scanPair } from './scan-pair.ts';
import { keepScan } from './upload-finish.ts';

/** What is being measured is asked for again after, s. */
const ASK_AGAIN = 1;

type Wish = z.output<typeof scanFitWishSchema>;

/** GET /api/projects/:id/scan-fit?component=&onto= tells how well one scan can be laid on another; POST makes the copy that lies so. */
export function scanFitRoutes(parts: HttpParts): Router {
  const router = Router();
  router.get('/projects/:id/scan-fit', async (req, res) => {
    const { project } = await memberOf(parts, req, 'upload');
    const wish = inShape(scanFitWishSchema, req.query, 'the query');
    await answer(parts, res, await scanPair(parts, project.id, wish));
  });
  // One at a time: two that make the same copy would write the same files.
  let last: Promise<unknown> = Promise.resolve();
  router.post('/projects/:id/scan-fit', async (req, res) => {
    const { project, account } = await memberOf(parts, req, 'upload');
    const wish: Wish = bodyOf(scanFitWishSchema, req);
    const making = last.then(async () => fittedCopy(parts, { project: project.id, wish, by: account.id }));
    last = making.catch(() => undefined);
    res.status(201).json(await making);
  });
  return router;
}

async function answer({ scanFits }: HttpParts, res: Response, pair: ScanPair): Promise<void> {
  if (!pair.ok) {
    res.json({ state: 'failed', reason: pair.why });
    return;
  }
  const stand = await scanFits.ask(pair.moving, pair.onto);
  if (stand.state === 'pending') res.status(202).set('Retry-After', String(ASK_AGAIN));
  res.json(stand.state === 'done' ? { state: 'done', result: stand.result } : stand);
}

interface Asked {
  readonly project: string;
  readonly wish: Wish;
  readonly by: string;
}

/** The copy of the scan that lies on the other, kept as a scan of its own; the scan stays as it was brought. */
async function fittedCopy(parts: HttpParts, { project, wish, by }: Asked): Promise<FittedScan> {
  const pair = await scanPair(parts, project, wish);
  if (!pair.ok) throw refused(pair.why);
  const stand = await parts.scanFits.ask(pair.moving, pair.onto);
  if (stand.state === 'failed') throw refused(stand.reason);
  if (stand.state === 'pending')
    throw refused('this fit is being measured: a scan or its placing has changed. Look at what it leaves, then use it');
  const problem = fitProblem(stand.result);
  if (problem !== null) throw refused(problem);
  const { scan } = pair.moving;
  const file = await parts.scanFits.copy(scan, wholeMotion(pair, stand.motion));
  try {
    const { sha256, bytes } = await syncAndHash(file);
    const name = fittedName(scan.name);
    const brought = { file, name, sha256, unit: 'mm', metresPerUnit: metresPer('mm') } as const;
    const own = { projectId: project, sha256, name, bytes, uploadedBy: by, createdAt: isoTime(parts.clock()) };
    const ended = await keepScan(parts, brought, own);
    if (ended.kind === 'refused') throw new Error(`a moved scan cannot be read: ${ended.problem.detail}`);
    if (!('scan' in ended.result)) throw new Error('a moved scan was kept as something else');
    return { scan: ended.result.scan, placed: pair.placed };
  } finally {
    // Once kept it is elsewhere.
    await rm(file, { force: true });
  }
}

/** From the frame of the moving scan's file to that of the other's: there both follow the datum points alike. */
function wholeMotion({ moving, onto }: Extract<ScanPair, { ok: true }>, fit: Motion): Motion {
  const [own, other] = [motionOf(moving.name), motionOf(onto.name)];
  const onCar = own ? after(fit, own) : fit;
  return other ? after(undoing(other), onCar) : onCar;
}

/** `bay.e57` gives `bay fitted.ply`. */
function fittedName(name: string): string {
  const suffix = ' fitted.ply';
  return `${basename(name)
    .replace(/\.[^.]*$/, '')
    .slice(0, nameLimit - suffix.length)}${suffix}`;
}

const refused = (detail: string): Refusal => new Refusal('fit-refused', { detail });
