import { writeBinaryPly } from '../../../server/measure/ply.ts';
import { tilesOf } from '../../../shared/geometry/tiles.ts';
import { uploadResultSchema } from '../../../shared/protocol/http.ts';
import { tileIndexSchema } from '../../../shared/protocol/tiles.ts';
import { startDemo } from '../../browser/server.ts';
import { bayPoints } from './data/bay.ts';

/*
 * What a person waits for once a scan has been sent: the built server with the demo job, a seeded bay sent as browsers send it, hung on a new bay
 * component: npm run bench -- geometry/upload [millions of points, 5]. From the last chunk handed over to the first clearance verdict on it,
 * to the last one, and to the first picture. More than 5 s to the first verdict of 5 million points ends the bench with 1. Needs `npm run build`.
 */

const millions = Number(process.argv[2] ?? 5);
/** How often is asked: the server answers 300 requests of an account in a minute. */
const [ASK_MS, ASK_LATER_MS] = [50, 250];
const [CHUNK, FIRST_VERDICT_MS] = [4 * 1024 * 1024, 5000];
const FIRST_LEVELS = 2;
const say = (line: string): void => void process.stdout.write(`${line}\n`);
const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
const base64 = (text: string): string => Buffer.from(text).toString('base64');

const file = writeBinaryPly(bayPoints(millions * 1e6, 42), 1000);
const server = await startDemo();
try {
  const project = server.job.split('/').at(-1) ?? '';
  const home = `${server.url}/api/projects/${project}`;
  const signed = await fetch(`${server.url}/api/session`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify({ login: 'designer', password: server.password('designer') }),
  });
  const cookie = signed.headers.get('set-cookie')?.split(';')[0] ?? '';
  const asked = async (url: string, init: RequestInit = {}): Promise<Response> => {
    const answer = await fetch(url, { ...init, headers: { ...init.headers, cookie } });
    if (!answer.ok) throw new Error(`${init.method ?? 'GET'} ${url}: ${answer.status} ${await answer.text()}`);
    return answer;
  };
  const verdicts = async (): Promise<{ key: string; status: string; why?: { reason: string } }[]> =>
    ((await (await asked(`${home}/verdicts`)).json()) as { verdicts: [] }).verdicts;
  const settled = async (key: string): Promise<{ readonly found: number; readonly waiting: number }> => {
    const mine = (await verdicts()).filter((one) => one.key.includes(key));
    return {
      found: mine.filter(({ status }) => status === 'pass' || status === 'fail').length,
      waiting: mine.filter(({ why }) => why?.reason === 'pending').length,
    };
  };
  while ((await settled('')).waiting > 0) await pause(ASK_LATER_MS);

  const tus = { 'Tus-Resumable': '1.0.0' };
  const metadata = Object.entries({ project, filename: 'bay.ply', unit: 'mm', use: 'scan' });
  const made = await asked(`${server.url}/api/uploads`, {
    method: 'POST',
    headers: {
      ...tus,
      'Upload-Length': String(file.length),
      'Upload-Metadata': metadata.map(([key, value]) => `${key} ${base64(value)}`).join(','),
    },
  });
  const place = new URL(made.headers.get('location') ?? '', `${server.url}/api/uploads`).href;
  let [last, done] = [made, 0];
  for (let at = 0; at < file.length; at += CHUNK) {
    done = performance.now();
    last = await asked(place, {
      method: 'PATCH',
      headers: { ...tus, 'Upload-Offset': String(at), 'Content-Type': 'application/offset+octet-stream' },
      body: new Uint8Array(file.subarray(at, at + CHUNK)),
    });
  }
  const since = (): string => `${(performance.now() - done).toFixed(0)} ms`;
  const { scan } = uploadResultSchema.parse(await last.json());
  say(`${scan.points} points, ${(file.length / 1e6).toFixed(0)} MB; after the last chunk was handed over:`);
  say(`read, sorted, kept and answered  ${since()}`);
  const picture = (async () => {
    const path = `${home}/scans/${scan.id}/tiles`;
    const index = tileIndexSchema.parse(await (await asked(path)).json());
    const end = Math.max(
      ...tilesOf(index).flatMap(({ level, from, bytes }) => (level < FIRST_LEVELS ? from + bytes : [])),
    );
    const { byteLength } = await (await asked(`${path}/${index.stamp}/0-${end}`)).arrayBuffer();
    say(`first picture                    ${since()}, ${byteLength} bytes of tiles`);
  })();
  const row = 'components.bench-bay';
  await asked(`${home}/spec`, {
    method: 'PATCH',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify({
      set: {
        [row]: 99,
        [`${row}.name`]: 'Whole bay',
        [`${row}.heatClass`]: 'structure',
        [`${row}.scan`]: scan.sha256,
        [`${row}.scanUnit`]: scan.unit,
      },
    }),
  });
  while ((await settled('~bench-bay')).found === 0) await pause(ASK_MS);
  const first = performance.now() - done;
  say(`first clearance verdict          ${since()} (at most ${FIRST_VERDICT_MS} ms of 5 million points)`);
  while ((await settled('bench-bay')).waiting > 0) await pause(ASK_LATER_MS);
  say(`all verdicts about it            ${since()}`);
  await picture;
  if (millions <= 5 && first > FIRST_VERDICT_MS) process.exitCode = 1;
} finally {
  await server.close();
}
