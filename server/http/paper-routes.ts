import express, { type Request, type Response, Router } from 'express';
import type { Paper, PaperSize } from '../../shared/papers/block.ts';
import { csvText, tableRows } from '../../shared/papers/csv.ts';
import type { PaperFacts } from '../../shared/papers/facts.ts';
import { purgeSheet } from '../../shared/papers/purgeSheet.ts';
import { reviewPack } from '../../shared/papers/reviewPack.ts';
import { dataTable } from '../../shared/papers/tables.ts';
import { traveller } from '../../shared/papers/traveller.ts';
import { weldSheets } from '../../shared/papers/weldSheets.ts';
import {
  type PackRequest,
  type PaperName,
  packBodyLimit,
  packRequestSchema,
  paperLinksSchema,
  paperNames,
  paperSizes,
  tableNames,
} from '../../shared/protocol/papers.ts';
import { readPicture } from '../papers/picture.ts';
import { PressBusy } from '../papers/press.ts';
import { memberOf } from './access.ts';
import { bodyOf, partOf } from './input.ts';
import { originFor, paperFacts } from './paper-facts.ts';
import { allowLinks, linksAllowed, rememberPrinted } from './paper-links.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

const makers: Readonly<Record<PaperName, (facts: PaperFacts) => Paper>> = {
  traveller,
  'weld-sheets': weldSheets,
  'purge-sheet': purgeSheet,
  'review-pack': (facts) => reviewPack(facts),
};

/** GET /api/projects/:id/papers/<name>.pdf?size=a4|letter, GET /api/projects/:id/tables/<name>.csv|.json, GET and PUT /api/projects/:id/paper-links. */
export function paperRoutes(parts: HttpParts): Router {
  const router = Router();
  router.get('/projects/:id/papers/:file', async (req, res) => {
    const { project } = await memberOf(parts, req, 'export');
    const name = paperNames.find((one) => `${one}.pdf` === partOf(req, 'file'));
    if (!name)
      throw noSuch(
        req,
        paperNames.map((one) => `${one}.pdf`),
      );
    const size = sizeOf(req);
    const facts = await paperFacts(parts, project, originFor(req, parts.config));
    await sendPaper(parts, res, { name, size, facts, paper: makers[name](facts), pictures: [] });
  });
  addTables(router, parts);
  addLinks(router, parts);
  return router;
}

function addTables(router: Router, parts: HttpParts): void {
  router.get('/projects/:id/tables/:file', async (req, res) => {
    const { project } = await memberOf(parts, req, 'export');
    const file = partOf(req, 'file');
    const name = tableNames.find((one) => file === `${one}.csv` || file === `${one}.json`);
    if (!name)
      throw noSuch(
        req,
        tableNames.flatMap((one) => [`${one}.csv`, `${one}.json`]),
      );
    const table = dataTable(name, await paperFacts(parts, project, originFor(req, parts.config)));
    res.attachment(file);
    if (file.endsWith('.csv')) res.type('text/csv; charset=utf-8').send(csvText(table));
    else res.json(tableRows(table));
  });
}

function addLinks(router: Router, parts: HttpParts): void {
  router.get('/projects/:id/paper-links', async (req, res) => {
    const { project } = await memberOf(parts, req, 'read');
    res.json({ allowed: await linksAllowed(parts.records, project.id) });
  });
  router.put('/projects/:id/paper-links', async (req, res) => {
    const { project, roles } = await memberOf(parts, req, 'read');
    if (!roles.includes('lead'))
      throw new Refusal('wrong-role', {
        detail: 'whether codes on papers answer people who are not signed in is for the lead to say',
        expected: 'the role lead',
        came: roles.join(', '),
      });
    const { allowed } = bodyOf(paperLinksSchema, req);
    await allowLinks(parts.records, project.id, allowed);
    res.json({ allowed });
  });
}

/** POST /api/projects/:id/papers/review-pack.pdf with pictures: its body is larger than others, so it stands before their reader. */
export function packRoute(parts: HttpParts): Router {
  const router = Router();
  router.post(
    '/projects/:id/papers/review-pack.pdf',
    // Nobody's megabytes are read before it is known who sends them.
    async (req, _res, next) => {
      await memberOf(parts, req, 'export');
      next();
    },
    express.json({ limit: packBodyLimit }),
    async (req, res) => {
      const { project } = await memberOf(parts, req, 'export');
      const size = sizeOf(req);
      const { pictures } = bodyOf(packRequestSchema, req);
      const read = await picturesOf(pictures);
      const facts = await paperFacts(parts, project, originFor(req, parts.config));
      const numbers = new Map(pictures.map(({ thread }, i) => [thread, i]));
      const paper = reviewPack(facts, numbers);
      await sendPaper(parts, res, { name: 'review-pack', size, facts, paper, pictures: read });
    },
  );
  return router;
}

function sizeOf(req: Request): PaperSize {
  const { size = 'a4' } = req.query;
  const found = paperSizes.find((one) => one === size);
  if (found) return found;
  throw new Refusal('bad-request', {
    detail: 'there is no such size of paper',
    expected: `size=${paperSizes.join(' or size=')}`,
    came: `size=${String(size)}`.slice(0, 60),
  });
}

function noSuch(req: Request, names: readonly string[]): Refusal {
  return new Refusal('not-found', {
    detail: 'there is no such paper or table',
    expected: names.join(', '),
    came: partOf(req, 'file').slice(0, 60),
  });
}

async function picturesOf(sent: PackRequest['pictures']): Promise<readonly Uint8Array[]> {
  const out: Uint8Array[] = [];
  for (const [i, { image }] of sent.entries()) {
    const picture = await readPicture(Buffer.from(image, 'base64'));
    if (!picture.ok)
      throw new Refusal('bad-request', {
        detail: `picture ${i + 1} of ${sent.length} cannot be printed; send the pack without it`,
        expected: picture.expected,
        came: picture.came,
      });
    out.push(picture.bytes);
  }
  return out;
}

interface Printing {
  readonly name: PaperName;
  readonly size: PaperSize;
  readonly facts: PaperFacts;
  readonly paper: Paper;
  readonly pictures: readonly Uint8Array[];
}

async function sendPaper(parts: HttpParts, res: Response, printing: Printing): Promise<void> {
  const { name, size, facts, paper, pictures } = printing;
  const bytes = await parts.papers.print({ paper, size, pictures }).catch((error: unknown) => {
    if (!(error instanceof PressBusy)) throw error;
    throw new Refusal('too-many', { detail: 'others are printing; try again in a moment', retryAfter: 10 });
  });
  const codes = facts.gates.map(({ gate, digest }) => ({
    project: facts.project.id,
    gate,
    digest: digest.slice(0, 16),
  }));
  const onPaper = (gate: string): boolean =>
    paper.blocks.some((block) => block.kind === 'code' && block.url.includes(`/${gate}?`));
  // Before it is handed out: a code must never be in a hand and not known here.
  await rememberPrinted(
    parts.records,
    codes.filter(({ gate }) => onPaper(gate)),
    { at: facts.printed, seq: facts.seq },
  );
  res.attachment(`${name}.pdf`).type('application/pdf');
  res.send(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength));
}
