import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { readConfig } from '../../server/config.ts';
import { seedDemo } from '../../server/demo.ts';
import { startServer } from '../../server/main.ts';
import { testFolder } from '../support/folder.ts';
import { freePort, type ServerProcess, spawnServer } from '../support/liveProcess.ts';
import { openRelayClient, openReviewer, type RawRelayClient, type RawReviewer } from './rawClients.ts';

/**
 * From an edit leaving one client to its verdicts at all others, beside a bare relay with the same clients, sockets and
 * message lengths, tick by tick in the same run. Server and relay each in a process of their own, the demo job open.
 * Run: npx tsx tests/bench/editToVerdict.ts [edits per row, 150] [reviewers, 2,50,200] [beginning of the kinds of edit, all]
 */

const edits = Number(process.argv[2] ?? 150);
const sizes = (process.argv[3] ?? '2,50,200').split(',').map(Number);
const TICK_MS = 100;
/** Ticks before it counts: both servers compiled, scans read, measurements there. */
const WARM_UP = 150;

type Change = readonly [path: string, value: (i: number) => number];

/** What is edited in turn: numbers that scalar rules read, few and many of them; or a node, which is measured against the scan again. */
const kinds: Readonly<Record<string, readonly Change[]>> = {
  'scalar rules': [
    ['stud.torque', (i) => 18 + (i % 5)],
    ['engine.lambda', (i) => 0.8 + (i % 7) / 100],
    ['joints.j1.current', (i) => 50 + (i % 9)],
  ],
  'a moved node': [['runners.r1.nodes.n2.y', (i) => 0.15 + (i % 9) / 1000]],
};

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}

async function demoData(dataDir: string): Promise<{ project: string; cookie: string }> {
  const reading = readConfig({ SLIPJOINT_DATA: dataDir, PORT: '0' });
  if (!reading.ok) throw new Error(reading.problems.join());
  const server = await startServer({ config: reading.config, logLevel: 'silent' });
  const seeded = await seedDemo(server);
  const designer = seeded?.accounts.find((a) => a.roles.includes('designer'));
  if (!seeded || !designer) throw new Error('the demo was not seeded');
  const { login, password } = designer;
  const signed = await server.auth.signIn({ login, password, address: 'bench' });
  if (signed.kind !== 'signed-in') throw new Error(signed.kind);
  await server.close();
  return { project: seeded.project, cookie: signed.cookie.split(';')[0] ?? '' };
}

async function startRelay(): Promise<{ port: number; stop(): void }> {
  const file = fileURLToPath(new URL('relay.ts', import.meta.url));
  const child = spawn(process.execPath, ['--import', 'tsx', file], { stdio: ['ignore', 'pipe', 'inherit'] });
  const port = await new Promise<number>((resolve) => child.stdout.once('data', (d: Buffer) => resolve(Number(d))));
  return { port, stop: () => void child.kill() };
}

interface Edit {
  readonly key: string;
  readonly by: number;
  readonly left: number;
  readonly seq: number;
}

/** Latencies of one row, ms, over every edit and every other client. */
interface Row {
  readonly verdict: readonly number[];
  readonly relay: readonly number[];
  readonly lost: number;
  readonly bytes: number;
}

function verdictLatencies(made: readonly Edit[], reviewers: readonly RawReviewer[]): { times: number[]; lost: number } {
  const times: number[] = [];
  let lost = 0;
  for (const { by, left, seq } of made) {
    for (const [i, { arrivals }] of reviewers.entries()) {
      if (i === by) continue;
      const arrival = arrivals.find((a) => a.seq >= seq);
      if (arrival) times.push(arrival.at - left);
      else lost += 1;
    }
  }
  return { times, lost };
}

/** `together` clients edit at each tick; else one, each in turn. */
async function measure(parties: Parties, together: number, changes: readonly Change[]): Promise<Row> {
  const { reviewers, relayers } = parties;
  const made: Promise<Edit>[] = [];
  const relayed: { by: number; left: number; number: number }[] = [];
  const bytes: number[] = [];
  let numbers = 0;
  let sentBytes = 0;
  for (let tick = 0; tick < edits + WARM_UP; tick++) {
    const [key, value] = changes[tick % changes.length] ?? ['stud.torque', () => 20];
    const writers = Array.from({ length: together }, (_, i) => (tick * together + i) % reviewers.length);
    for (const by of writers) {
      const sent = reviewers[by]?.edit(key, value(tick + by));
      sentBytes = sent?.bytes ?? sentBytes;
      if (sent && tick >= WARM_UP) made.push(sent.kept.then((seq) => ({ key, by, left: sent.left, seq })));
    }
    await pause(TICK_MS);
    const length = reviewers[0]?.lastBytes ?? 600;
    bytes.push(length);
    for (const by of writers) {
      const number = numbers++;
      const left = relayers[by]?.send(number, sentBytes, length) ?? 0;
      if (tick >= WARM_UP) relayed.push({ by, left, number });
    }
    await pause(TICK_MS);
  }
  await pause(1000);
  const done = await Promise.all(made);
  // What each change takes by itself: some move one verdict, some a dozen.
  if (changes.length > 1)
    for (const [key] of changes) {
      const { times } = verdictLatencies(
        done.filter((edit) => edit.key === key),
        reviewers,
      );
      console.log(`       ${key}: p50 ${quantile(times, 0.5).toFixed(2)} p99 ${quantile(times, 0.99).toFixed(2)} ms`);
    }
  const { times, lost } = verdictLatencies(done, reviewers);
  const relay = relayed.flatMap(({ by, left, number }) =>
    relayers.flatMap((r, i) => (i === by ? [] : [(r.arrivals.get(number) ?? Number.NaN) - left])),
  );
  return { verdict: times, relay, lost, bytes: quantile(bytes, 0.5) };
}

interface Parties {
  readonly reviewers: readonly RawReviewer[];
  readonly relayers: readonly RawRelayClient[];
}

interface Place {
  readonly server: ServerProcess;
  readonly relay: { readonly port: number };
  readonly project: string;
  readonly cookie: string;
}

async function row(
  place: Place,
  count: number,
  how: { readonly together: number; readonly kind: string },
): Promise<void> {
  const { together, kind } = how;
  const { server, relay, project, cookie } = place;
  const reviewers: RawReviewer[] = [];
  const relayers: RawRelayClient[] = [];
  for (let i = 0; i < count; i++) {
    reviewers.push(await openReviewer({ origin: server.origin, project, cookie }));
    relayers.push(await openRelayClient(relay.port));
  }
  const { verdict, relay: bare, lost, bytes } = await measure({ reviewers, relayers }, together, kinds[kind] ?? []);
  for (const one of [...reviewers, ...relayers]) one.close();
  const show = (ms: number): string => ms.toFixed(2).padStart(7);
  const [v50, v99, r50, r99] = [
    quantile(verdict, 0.5),
    quantile(verdict, 0.99),
    quantile(bare, 0.5),
    quantile(bare, 0.99),
  ];
  console.log(
    `${String(count).padStart(4)} reviewers, ${5 * together} edits/s, ${kind}: verdict p50 ${show(v50)} p99 ${show(v99)} ms | relay p50 ${show(r50)} p99 ${show(r99)} ms | ratio p50 ${(v50 / r50).toFixed(2)} p99 ${(v99 / r99).toFixed(2)} | ${verdict.length} deliveries, ${lost} lost, delta ${bytes} B`,
  );
}

const folder = testFolder();
const dataDir = join(folder.path, 'data');
const { project, cookie } = await demoData(dataDir);
const server = await spawnServer({ dataDir, port: await freePort() });
const relay = await startRelay();
try {
  console.log(`server from ${server.from}, ${edits} edits a row`);
  for (const count of sizes) {
    for (const kind of Object.keys(kinds).filter((k) => k.startsWith(process.argv[4] ?? '')))
      await row({ server, relay, project, cookie }, count, { together: 1, kind });
    if (count === 2) await row({ server, relay, project, cookie }, count, { together: 2, kind: 'scalar rules' });
  }
} finally {
  relay.stop();
  await server.stop();
  folder.dispose();
}
