import { randomBytes } from 'node:crypto';
import { mkdir } from 'node:fs/promises';
import { createServer, type IncomingMessage, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { dirname, join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import pino from 'pino';
import { isoTime } from './ambient.ts';
import { type Auth, createAuth } from './auth/auth.ts';
import { type Config, withPort } from './config.ts';
import { headerFiles } from './header-files.ts';
import { createHttp, type Http } from './http/app.ts';
import { KEPT_FOR } from './http/idempotency.ts';
import { type LiveNotices, liveNotices } from './live-notices.ts';
import { livePapers } from './live-papers.ts';
import { documentAccess, liveProjects } from './live-projects.ts';
import { createMeasurePool, type MeasurePool } from './measure/pool.ts';
import { createMeasureService, type MeasureService } from './measure/service.ts';
import { openNearness } from './nearness-pool.ts';
import { openPress } from './papers/press.ts';
import { type MeshFiles, meshFiles, partMeshes } from './parts.ts';
import { openRecordKey, type RecordKey } from './record/recordKey.ts';
import { decidedOf } from './record/statement.ts';
import { meshRemaker } from './remake-mesh.ts';
import { liveRevisions } from './revisions/live-revisions.ts';
import { collectWhenIdle, engineCollection } from './rooms/collectWhenIdle.ts';
import { createFeed, type VerdictFeed } from './rooms/feed.ts';
import { MeasurementDesk } from './rooms/measurements.ts';
import { RoomRegistry } from './rooms/registry.ts';
import { ScanFitter } from './scan-fits.ts';
import { type ScanGrids, scanGrids, scanMeasure } from './scans.ts';
import { openBlobs } from './storage/embedded/blobs.ts';
import { openJournal } from './storage/embedded/journal.ts';
import { openRecords } from './storage/embedded/records.ts';
import { rootFile } from './storage/embedded/root-file.ts';
import type { Blobs, Journal, Records } from './storage/ports.ts';
import { createSyncUpgrade } from './sync/upgrade.ts';

const SWEEP_MS = 3_600_000;
/** Time given to open requests when the server is told to stop, ms. */
const DRAIN_MS = 5_000;

export interface ServerOptions {
  readonly config: Config;
  /** Folder of the built web app, when it is served. */
  readonly webDir?: string;
  /** Least level that is logged; 'silent' for tests. */
  readonly logLevel?: string;
}

/** A running server and what the command line needs of it. */
export interface RunningServer {
  readonly config: Config;
  readonly url: string;
  readonly store: Store;
  readonly auth: Auth;
  /** For the console; undefined once there is an account. */
  readonly setupCode: string | undefined;
  close(): Promise<void>;
}

/** Everything kept below the data folder. */
export interface Store {
  readonly records: Records;
  readonly journal: Journal;
  readonly blobs: Blobs;
  readonly grids: ScanGrids;
  readonly meshes: MeshFiles;
  readonly recordKey: RecordKey;
}

const random = (bytes: number): Uint8Array => randomBytes(bytes);
const clock = (): number => Date.now();

async function openStore(dataDir: string): Promise<Store> {
  await mkdir(dataDir, { recursive: true });
  const records = await openRecords(join(dataDir, 'records.db'));
  const journal = await openJournal({ file: join(dataDir, 'journal.db'), clock });
  const blobs = await openBlobs(join(dataDir, 'blobs'), random);
  const recordKey = await openRecordKey(join(dataDir, 'record-key.pem'));
  return { records, journal, blobs, grids: scanGrids(dataDir), meshes: meshFiles(dataDir), recordKey };
}

/** Slow measurements begin when nothing new was asked for so long (own: a hand that drags a node rests for less). */
const MEASURE_PAUSE_MS = 400;

async function openMeasuring(
  dataDir: string,
  { grids, meshes, blobs }: Store,
): Promise<{ pool: MeasurePool; service: MeasureService }> {
  const pool = createMeasurePool();
  const service = await createMeasureService({
    pool,
    scanFile: grids.file,
    meshFile: meshes.file,
    remakeMesh: meshRemaker({ pool, blobs, files: meshes }),
    cacheFile: join(dataDir, 'measurements.jsonl'),
    afterPause: (run) => {
      const timer = setTimeout(run, MEASURE_PAUSE_MS);
      return () => clearTimeout(timer);
    },
  });
  return { pool, service };
}

/** Composition root: config, adapters, application, listening. */
export async function startServer(options: ServerOptions): Promise<RunningServer> {
  const log = pino({ level: options.logLevel ?? 'info' }, pino.destination(2));
  const warn = (event: string, detail: Readonly<Record<string, unknown>>): void => log.warn(detail, event);
  const store = await openStore(options.config.dataDir);
  const measuring = await openMeasuring(options.config.dataDir, store);
  const http = createServer({ headersTimeout: 10_000, keepAliveTimeout: 65_000, requestTimeout: 0 });
  let app: Http | undefined;
  // Before the feed, which takes its own path out of what stands here.
  http.on('request', (request, response) => {
    if (app) app.app(request, response);
    else response.writeHead(503, { 'Retry-After': '1' }).end();
  });
  const config = await listen(http, options.config);
  // From here on clients come, and a link that nobody answers would hang: nothing is awaited before both sockets have their listeners.
  const auth = createAuth({ records: store.records, clock, random, secure: config.secure });
  const originAllowed = (origin: string | undefined): boolean =>
    origin !== undefined && config.origins.includes(origin);
  const personOf = async (request: IncomingMessage): Promise<{ account: string; session: string } | null> => {
    const signedIn = await auth.readSession(request.headers.cookie);
    return signedIn ? { account: signedIn.account.id, session: signedIn.sessionId } : null;
  };

  const desk = new MeasurementDesk(measuring.service);
  const feed = createFeed(http, {
    originAllowed,
    person: personOf,
    snapshot: async (project, account) =>
      (await store.records.member(project, account)) ? (await rooms.open(project)).snapshot() : null,
  });
  const notices = liveNotices({ records: store.records, config, feed, rooms: () => rooms, clock, random, warn });
  const rooms: RoomRegistry = new RoomRegistry({
    ...store,
    feed,
    measurements: (arrived) => desk.open(arrived),
    decided: async (project) => decidedOf(await store.records.signOffs(project)),
    now: () => performance.now(),
    clock,
    after: engineCollection.after,
    answered: collectWhenIdle(engineCollection),
    noted: notices.noted,
    warn,
  });
  auth.onSessionEnd((session) => {
    feed.endSession(session);
    void rooms.endSession(session);
  });
  const sync = createSyncUpgrade({
    originAllowed,
    warn,
    access: (request, project, document) => documentAccess({ auth, store, rooms }, request, { project, document }),
  });
  http.on('upgrade', (request, socket, head) => {
    // socket.io takes its own path; anything else nobody asked for.
    if (!request.url?.startsWith('/feed/') && !sync.handle(request, socket, head)) socket.destroy();
  });
  const live = liveProjects({ store, rooms, feed, service: measuring.service, clock, random });
  const measure = scanMeasure(measuring.pool, store.grids);
  const nearness = openNearness(store, measuring.pool, measure);
  const press = openPress();
  app = await createHttp({
    ...store,
    papers: livePapers(press, rooms),
    auth,
    live,
    notices: notices.desk,
    revisions: liveRevisions({ ...store, rooms, desk, feed, clock, random }),
    measure,
    nearness: nearness.shelf,
    scanFits: new ScanFitter({ grids: store.grids, pool: measuring.pool, ask: desk.ask, readScan: measure.readScan }),
    headerFile: headerFiles(measuring.pool, store.meshes),
    meshes: partMeshes({ pool: measuring.pool, ask: desk.ask, files: store.meshes }),
    clock,
    random,
    config,
    alarm: (error, where) =>
      log.error({ error: String(error), stack: error instanceof Error ? error.stack : undefined }, where),
    checks: {
      journal: async () => (store.journal.readOnly ? Promise.reject(new Error('the journal is read-only')) : undefined),
    },
    ...(options.webDir !== undefined && { webDir: options.webDir }),
  });
  notices.start();
  const sweeping = sweepHourly(auth, app, store.records);
  return {
    config,
    url: config.origins[0] ?? `http://localhost:${config.port}`,
    store,
    auth,
    setupCode: await auth.setupCode(),
    close: () =>
      stop({ http, feed, rooms, notices, sync, store, pools: [measuring.pool, nearness.pool, press], sweeping }),
  };
}

async function listen(http: Server, config: Config): Promise<Config> {
  await new Promise<void>((resolve, reject) => {
    http.once('error', reject);
    http.listen(config.port, config.host, resolve);
  });
  const address = http.address();
  return withPort(config, isAddress(address) ? address.port : config.port);
}

function isAddress(address: string | AddressInfo | null): address is AddressInfo {
  return typeof address === 'object' && address !== null;
}

function sweepHourly(auth: Auth, app: Http, records: Records): NodeJS.Timeout {
  const timer = setInterval(
    () => void Promise.allSettled([auth.sweep(), app.sweep(), records.forgetAnswers(isoTime(clock() - KEPT_FOR))]),
    SWEEP_MS,
  );
  timer.unref();
  return timer;
}

interface StopParts {
  readonly http: Server;
  readonly feed: VerdictFeed;
  readonly rooms: RoomRegistry;
  readonly notices: LiveNotices;
  readonly sync: { close(): void };
  readonly store: Store;
  readonly pools: readonly Pick<MeasurePool, 'destroy'>[];
  readonly sweeping: NodeJS.Timeout;
}

/** Takes nothing new, lets what is under way end, then closes what keeps: nothing acknowledged is lost. */
async function stop({ http, feed, rooms, notices, sync, store, pools, sweeping }: StopParts): Promise<void> {
  clearInterval(sweeping);
  await notices.close();
  await rooms.close();
  sync.close();
  const closed = new Promise<void>((resolve) => http.close(() => resolve()));
  await feed.close();
  const cut = setTimeout(() => http.closeAllConnections(), DRAIN_MS);
  http.closeIdleConnections();
  await closed;
  clearTimeout(cut);
  await store.journal.close();
  await store.records.close();
  for (const pool of pools) await pool.destroy();
}

/** Folder of the built web app; undefined when it was not built. */
export function builtWeb(): string | undefined {
  try {
    return dirname(fileURLToPath(rootFile('dist/web/index.html', import.meta.url)));
  } catch {
    return undefined;
  }
}
