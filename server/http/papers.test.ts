import type { Request } from 'express';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { paperNames, tableNames } from '../../shared/protocol/papers.ts';
import { type LivePerson, type LiveServer, liveServer, signableEntries } from '../../tests/support/live.ts';
import { originFor } from './paper-facts.ts';

let live: LiveServer;
let lead: LivePerson;
let reviewer: LivePerson;
let stranger: LivePerson;
let project: string;

beforeAll(async () => {
  live = await liveServer();
  project = await live.project({ lead: ['lead'], rev: ['reviewer'] }, signableEntries());
  lead = await live.person('lead');
  reviewer = await live.person('rev');
  stranger = await live.person('outsider');
}, 60_000);
afterAll(() => live.close());

interface Got {
  readonly status: number;
  readonly headers: Headers;
  readonly bytes: Buffer;
  readonly text: string;
}

async function send(who: LivePerson | null, method: string, path: string, body?: unknown): Promise<Got> {
  const answer = await fetch(`${live.origin}${path}`, {
    method,
    headers: {
      ...(who && { Cookie: who.cookie }),
      ...(body !== undefined && { 'Content-Type': 'application/json' }),
    },
    ...(body !== undefined && { body: JSON.stringify(body) }),
  });
  const bytes = Buffer.from(await answer.arrayBuffer());
  return { status: answer.status, headers: answer.headers, bytes, text: bytes.toString('utf8') };
}
const get = (who: LivePerson | null, path: string): Promise<Got> => send(who, 'GET', path);
const api = (rest: string): string => `/api/projects/${project}/${rest}`;

describe('papers over HTTP', () => {
  it.each(paperNames.flatMap((name) => [`${name}.pdf`, `${name}.pdf?size=letter`]))('hands out %s', async (file) => {
    const answer = await get(reviewer, api(`papers/${file}`));
    expect([answer.status, answer.headers.get('content-type')]).toEqual([200, 'application/pdf']);
    expect(answer.headers.get('content-disposition')).toContain(`filename=${file.split('?')[0]}`);
    expect(answer.bytes.subarray(0, 8).toString()).toBe('%PDF-1.7');
  });

  it.each(tableNames)('hands out the table %s as CSV and JSON with the same rows', async (name) => {
    const csv = await get(reviewer, api(`tables/${name}.csv`));
    expect([csv.status, csv.headers.get('content-type')]).toEqual([200, 'text/csv; charset=utf-8']);
    expect(csv.bytes.subarray(0, 3)).toEqual(Buffer.from([0xef, 0xbb, 0xbf]));
    const rows: unknown = JSON.parse((await get(reviewer, api(`tables/${name}.json`))).text);
    // Nothing in this job has two lines.
    expect(rows).toHaveLength(csv.text.split('\r\n').length - 2);
  });

  it('are for members only, each of them', async () => {
    const paths = [
      ...paperNames.map((name) => `papers/${name}.pdf`),
      ...tableNames.map((name) => `tables/${name}.csv`),
    ];
    for (const path of [...paths, 'paper-links']) {
      expect((await get(stranger, api(path))).status, path).toBe(404);
      expect((await get(null, api(path))).status, path).toBe(401);
    }
  });

  it.each([
    ['a size there is not', 'papers/traveller.pdf?size=a5', 400, /size=a4 or size=letter/],
    ['a paper there is not', 'papers/poem.pdf', 404, /traveller\.pdf/],
    ['a table there is not', 'tables/verdicts.xls', 404, /verdicts\.csv/],
  ])('refuse %s and say what there is', async (_, path, status, expected) => {
    const answer = await get(lead, api(path));
    expect(answer.status).toBe(status);
    expect(answer.text).toMatch(expected);
  });
});

it('codes lead to the address the asker came by, and to no other host that a request names', () => {
  const origins = ['https://a.example', 'https://b.example:8443'];
  const asked = (host: string): string =>
    originFor({ get: () => host } as unknown as Request, { ...live.server.config, origins });
  expect(asked('b.example:8443')).toBe('https://b.example:8443');
  expect(asked('evil.example')).toBe('https://a.example');
});

describe('a review pack with pictures', () => {
  const path = () => api('papers/review-pack.pdf');
  const image = async (): Promise<string> =>
    (
      await sharp({ create: { width: 60, height: 40, channels: 3, background: 'white' } })
        .png()
        .toBuffer()
    ).toString('base64');

  it('takes what a browser sends, above the size of other bodies', async () => {
    const noise = await sharp({
      create: {
        width: 600,
        height: 400,
        channels: 3,
        background: 'white',
        noise: { type: 'gaussian', mean: 128, sigma: 60 },
      },
    })
      .png()
      .toBuffer();
    expect(noise.length).toBeGreaterThan(256 * 1024);
    const pictures = [{ thread: 't1', image: noise.toString('base64') }];
    expect((await send(reviewer, 'POST', path(), { pictures })).status).toBe(200);
    expect((await send(reviewer, 'POST', `${path()}?size=letter`, { pictures: [] })).status).toBe(200);
  });

  it('refuses what is no picture, too many, and a body of another shape', async () => {
    const picture = { thread: 't1', image: Buffer.from('no picture').toString('base64') };
    const bad = await send(lead, 'POST', path(), { pictures: [picture] });
    expect([bad.status, bad.text]).toEqual([400, expect.stringContaining('PNG or JPEG')]);
    const one = { thread: 't1', image: await image() };
    expect((await send(lead, 'POST', path(), { pictures: Array.from({ length: 41 }, () => one) })).status).toBe(400);
    expect((await send(lead, 'POST', path(), { pictures: [{ ...one, thread: '../x' }] })).status).toBe(400);
    expect((await send(lead, 'POST', path(), {})).status).toBe(400);
  });

  it('is read from nobody but members', async () => {
    expect((await send(stranger, 'POST', path(), { pictures: [] })).status).toBe(404);
    expect((await send(null, 'POST', path(), { pictures: [] })).status).toBe(401);
  });
});

/** The code of a gate as the traveller of now carries it; printing it makes it known. */
async function printedCode(gate: string): Promise<string> {
  await get(lead, api('papers/traveller.pdf'));
  const rows: readonly { gate: string; digest: string }[] = JSON.parse(
    (await get(lead, api('tables/gates.json'))).text,
  );
  return `/g/${project}/${gate}?d=${rows.find((row) => row.gate === gate)?.digest.slice(0, 16)}`;
}

describe('the page behind a code', () => {
  it('says current, then stale since when, then current again once it is taken back', async () => {
    const code = await printedCode('weld');
    const first = await get(null, code);
    expect([first.status, first.text]).toEqual([200, expect.stringContaining(' CURRENT</h1>')]);
    const document = live.document(lead, project);
    await document.synced();
    document.set('joints.j1.wall', 0.003);
    await document.kept();
    expect((await get(null, code)).text).toMatch(/STALE since 20\d\d-\d\d-\d\d \d\d:\d\d UTC<\/h1>/);
    document.set('joints.j1.wall', 0.002);
    await document.kept();
    expect((await get(null, code)).text).toContain(' CURRENT</h1>');
  });

  it('tells nobody anything else of the job, runs no script and is not kept', async () => {
    const { text, headers } = await get(null, await printedCode('design'));
    for (const words of ['Job ', 'lead', '<script', 'style=']) expect(text).not.toContain(words);
    expect(headers.get('cache-control')).toBe('no-store');
    expect(text).toContain('href="/"');
    expect((await get(reviewer, await printedCode('design'))).text).toContain(`href="/j/${project}"`);
    expect((await get(null, '/g/style.css')).headers.get('content-type')).toContain('text/css');
  });

  it('answers every code it does not know in the same way', async () => {
    const code = await printedCode('weld');
    const unknown = [
      code.replace(project, 'AAAAAAAAAAAAAAAAAAAAAA'),
      code.replace('/weld', '/wield'),
      code.replace(/d=.*/, 'd=0123456789abcdef'),
      code.replace(/d=.*/, 'd=<script>'),
      code.replace(/\?d=.*/, ''),
      `${code.replace(/d=.*/, 'd=a')}&d=b`,
    ];
    const answers = await Promise.all(unknown.map((one) => get(null, one)));
    for (const { status, text } of answers) {
      expect(status).toBe(404);
      expect(text).toContain('Nothing known under this code');
      expect(text).toBe(answers[0]?.text);
    }
  });

  it('asks for a sign-in when the lead wants that, and only the lead can', async () => {
    const code = await printedCode('weld');
    expect((await send(reviewer, 'PUT', api('paper-links'), { allowed: false })).status).toBe(403);
    expect((await send(lead, 'PUT', api('paper-links'), { allowed: 'no' })).status).toBe(400);
    expect((await send(lead, 'PUT', api('paper-links'), { allowed: false })).status).toBe(200);
    expect(JSON.parse((await get(reviewer, api('paper-links'))).text)).toEqual({ allowed: false });
    for (const who of [null, stranger]) {
      expect((await get(who, code)).text).toContain('Sign in to see');
      expect((await get(who, code.replace(/d=.*/, 'd=0123456789abcdef'))).text).toContain('Sign in to see');
    }
    expect((await get(reviewer, code)).text).toContain(' CURRENT</h1>');
    await send(lead, 'PUT', api('paper-links'), { allowed: true });
    expect((await get(null, code)).text).toContain(' CURRENT</h1>');
  });
});
