import { type Request, type Response, Router } from 'express';
import { gateRow } from '../../shared/gates/gates.ts';
import { type PrintedCode, staleSince } from '../../shared/papers/staleSince.ts';
import { utcWords } from '../../shared/papers/traveller.ts';
import { isGateId } from '../../shared/spec/gateId.ts';
import { isoTime } from '../ambient.ts';
import { partOf } from './input.ts';
import { type Code, linksAllowed, printedAt } from './paper-links.ts';
import type { HttpParts } from './parts.ts';

/** What the code on a paper answers. Without a sign-in nothing else of the job is told. */
type Answer =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'sign-in' }
  | { readonly kind: 'current'; readonly title: string; readonly printed: string }
  /** `since`: ISO 8601, null when it cannot be told. */
  | { readonly kind: 'stale'; readonly title: string; readonly printed: string; readonly since: string | null };

/** Changes that are looked through for when a paper became stale (own: so many take a tenth of a second). */
const LOOKED_THROUGH = 100;

/** GET /g/:project/:gate?d=: the page behind the code on a paper. Plain HTML that any phone shows, no script. */
export function paperPage(parts: HttpParts): Router {
  const router = Router();
  router.get('/g/style.css', (_req, res) => {
    res.set('Cache-Control', 'public, max-age=3600').type('css').send(STYLE);
  });
  router.get('/g/:project/:gate', async (req, res) => {
    const code = { project: partOf(req, 'project'), gate: partOf(req, 'gate'), digest: digestOf(req) };
    const member = await isMember(parts, req, code.project);
    const answer = await answerTo(parts, code, member);
    send(res, page(answer, member ? `/j/${encodeURIComponent(code.project)}` : '/'), answer.kind);
  });
  return router;
}

function digestOf(req: Request): string {
  const { d } = req.query;
  return typeof d === 'string' ? d.toLowerCase() : '';
}

async function isMember({ auth, records }: HttpParts, req: Request, project: string): Promise<boolean> {
  const session = await auth.readSession(req.headers.cookie);
  return session !== null && session !== undefined && (await records.member(project, session.account.id)) !== undefined;
}

async function answerTo(parts: HttpParts, code: Code, member: boolean): Promise<Answer> {
  const { records } = parts;
  if ((await records.project(code.project)) === undefined) return { kind: 'nothing' };
  if (!member && !(await linksAllowed(records, code.project))) return { kind: 'sign-in' };
  if (!isGateId(code.gate) || !/^[0-9a-f]{16}$/.test(code.digest)) return { kind: 'nothing' };
  const printed = await printedAt(records, code);
  if (printed === undefined) return { kind: 'nothing' };
  const snapshot = await parts.live.snapshot(code.project);
  const view = snapshot.gates.find(({ gate }) => gate === code.gate);
  const about = { title: gateRow(code.gate).title, printed: printed.at };
  if (view?.digest.startsWith(code.digest)) return { kind: 'current', ...about };
  const conceded = snapshot.concessions.map((one) => one.concession).filter(({ id }) => view?.concessions.includes(id));
  const since = await sinceWhen(parts, { code, gate: code.gate, seq: printed.seq, plan: snapshot.plan.plan, conceded });
  return { kind: 'stale', ...about, since };
}

interface Since extends Pick<PrintedCode, 'gate' | 'plan' | 'conceded'> {
  readonly code: Code;
  readonly seq: number;
}

async function sinceWhen({ papers, live }: HttpParts, { code, seq, ...rest }: Since): Promise<string | null> {
  const changes = await papers.changes(code.project, seq, LOOKED_THROUGH + 1);
  if (changes.length > LOOKED_THROUGH) return null;
  const at = staleSince({ ...rest, digest: code.digest, changes, entries: await live.entries(code.project) });
  return at === null ? null : isoTime(at);
}

function send(res: Response, html: string, kind: Answer['kind']): void {
  res
    .status(kind === 'nothing' ? 404 : 200)
    .set({ 'Cache-Control': 'no-store', 'X-Robots-Tag': 'noindex' })
    .type('html')
    .send(html);
}

/** Words and a drawn shape: no colour says it alone. All text is ours: nothing that people typed gets here. */
function page(answer: Answer, app: string): string {
  const { title, head, words } = said(answer);
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<link rel="stylesheet" href="/g/style.css">
</head>
<body>
<main>
<h1>${head}</h1>
${words.map((line) => `<p>${line}</p>`).join('\n')}
<p><a href="${app}">Open Slipjoint</a></p>
</main>
</body>
</html>
`;
}

const CIRCLE = '<svg viewBox="0 0 24 24" aria-hidden="true"><circle cx="12" cy="12" r="8"/></svg>';
const SHEETS =
  '<svg viewBox="0 0 24 24" aria-hidden="true"><path fill="none" stroke="currentColor" stroke-width="2" d="M4 4h11v11H4zM9 9h11v11H9z"/></svg>';

function said(answer: Answer): { readonly title: string; readonly head: string; readonly words: readonly string[] } {
  switch (answer.kind) {
    case 'nothing':
      return {
        title: 'Nothing known',
        head: 'Nothing known under this code',
        words: ['This server has printed no such paper. Do not rely on it.'],
      };
    case 'sign-in':
      return { title: 'Sign in', head: 'Sign in to see', words: ['Codes of this job answer only who is signed in.'] };
    case 'current':
      return {
        title: 'Current',
        head: `${CIRCLE} CURRENT`,
        words: [
          `Gate ${answer.title}: its facts are those of the paper.`,
          `Printed first ${utcWords(answer.printed)}. This says nothing of whether the gate is signed.`,
        ],
      };
    case 'stale':
      return {
        title: 'Stale',
        head: `${SHEETS} STALE ${answer.since === null ? 'now' : `since ${utcWords(answer.since)}`}`,
        words: [
          `Gate ${answer.title}: its facts have moved since the paper was printed, ${utcWords(answer.printed)}.`,
          'Do not work by this paper. Get a new one.',
        ],
      };
  }
}

const STYLE = `body{font:1.1rem/1.5 sans-serif;margin:0;color:#000;background:#fff}
main{max-width:34rem;margin:0 auto;padding:1.5rem}
h1{font-size:2rem;line-height:1.2}
svg{width:1.6em;height:1.6em;vertical-align:middle}
a{display:inline-block;padding:.7rem 0;min-height:44px;color:#0b3a82}
`;
