import { mkdirSync, readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { type Auth, createAuth } from '../../server/auth/auth.ts';
import { type Config, readConfig, withPort } from '../../server/config.ts';
import { createHttp, type Http } from '../../server/http/app.ts';
import type { Check, HttpParts, LiveProjects, Measure, Meshes, ScanFile } from '../../server/http/parts.ts';
import { encodeTiles } from '../../server/measure/tiles/encode.ts';
import { openRecordKey } from '../../server/record/recordKey.ts';
import { type RevisionParts, Revisions } from '../../server/revisions/revisions.ts';
import { openBlobs } from '../../server/storage/embedded/blobs.ts';
import type { Account, Blobs, Records } from '../../server/storage/ports.ts';
import { buildPointGrid } from '../../shared/geometry/cloud.ts';
import type { Role } from '../../shared/protocol/roles.ts';
import { seededRandom, type TestClock, testClock } from './clock.ts';
import { testFolder } from './folder.ts';
import { memoryRecords } from './memory-records.ts';

export const testPassword = 'copper lantern oyster vigil';

/** One person's browser: keeps the cookie it was given and names the page it is on. */
export interface Visitor {
  readonly cookie: string;
  send(method: string, path: string, body?: unknown, headers?: Record<string, string>): Promise<Answer>;
}

export interface Answer {
  readonly status: number;
  readonly headers: Headers;
  /** The parsed JSON, or undefined. */
  readonly body: unknown;
  readonly bytes: Uint8Array;
}

export interface TestServer {
  readonly origin: string;
  readonly dataDir: string;
  readonly records: Records;
  readonly blobs: Blobs;
  readonly auth: Auth;
  readonly clock: TestClock;
  readonly http: Http;
  readonly alarms: unknown[];
  /** Every file readScan was given, with its content. */
  readonly read: { scan: ScanFile; content: string }[];
  visitor(): Visitor;
  /** A signed-in visitor; the account is made if it is new. */
  person(login: string): Promise<{ visitor: Visitor; account: Account }>;
  /** A project with these people in it, by login. */
  project(people: Readonly<Record<string, readonly Role[]>>): Promise<string>;
  close(): Promise<void>;
}

export interface TestServerOptions {
  readonly checks?: Readonly<Record<string, Check>>;
  readonly webDir?: string;
  /** What the test asks of live projects; all else of them cannot be had. */
  readonly live?: Partial<LiveProjects>;
  /** Runs before a scan is read; may throw as a broken reader would. */
  readonly beforeRead?: () => void;
  /** What reads and measures parts; without it none can be brought. */
  readonly meshes?: Meshes;
  /** Where revisions come from; without it none can be made. */
  readonly revisions?: Pick<RevisionParts, 'state' | 'changes' | 'measurements'>;
  /** What tells how near the header is; without it nothing can be asked. */
  readonly nearness?: HttpParts['nearness'];
  /** What lays scans on others; without it none can be. */
  readonly scanFits?: HttpParts['scanFits'];
  /** What makes files of the whole header; without it none can be made. */
  readonly headerFile?: HttpParts['headerFile'];
  /** Requests an account may make in a minute. */
  readonly requestsPerMinute?: number;
  /** What carries notices; without it every hook is taken and no mail leaves. */
  readonly notices?: HttpParts['notices'];
  /** What prints papers; without it none can be printed. */
  readonly papers?: HttpParts['papers'];
}

const noMeshes = (): Promise<never> => Promise.reject(new Error('this test server reads no parts'));

const noNearness = (): never => {
  throw new Error('this test server tells no nearness');
};
const notLive = (): Promise<never> => Promise.reject(new Error('this test server has no live projects'));
const noProjects: LiveProjects = {
  entries: notLive,
  snapshot: notLive,
  offer: notLive,
  sign: notLive,
  changePlan: notLive,
  concede: notLive,
  endConcession: notLive,
  edit: notLive,
  remark: notLive,
  expel: async () => undefined,
  scanAdded: async () => undefined,
  partAdded: async () => undefined,
};

/** A real server on a free port, with records in memory, files in a folder of its own and a scan reader for text. */
export async function testServer(options: TestServerOptions = {}): Promise<TestServer> {
  const folder = testFolder();
  const dataDir = join(folder.path, 'data');
  mkdirSync(dataDir);
  const reading = readConfig({ SLIPJOINT_DATA: dataDir, PORT: '0' });
  if (!reading.ok) throw new Error(reading.problems.join());
  const records = memoryRecords();
  const [clock, random] = [testClock(), seededRandom(7)];
  const blobs = await openBlobs(join(dataDir, 'blobs'), random);
  const auth = createAuth({ records, clock: clock.now, random, secure: false });
  const alarms: unknown[] = [];
  const read: TestServer['read'] = [];
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  const http = await createHttp({
    ...{ records, blobs, auth, random, clock: clock.now, measure: textMeasure(read, options.beforeRead) },
    ...{ config: configured(reading.config, port, options), alarm: (error: unknown) => alarms.push(error) },
    recordKey: await openRecordKey(join(dataDir, 'record-key.pem')),
    live: { ...noProjects, ...options.live },
    revisions: new Revisions({
      ...{ records, blobs, random, clock: clock.now, added: () => undefined, pause: async () => undefined },
      ...(options.revisions ?? { state: notLive, changes: notLive, measurements: noNearness }),
    }),
    notices: options.notices ?? { changed: () => undefined, hookProblem: async () => null },
    headerFile: options.headerFile ?? noMeshes,
    papers: options.papers ?? { print: notLive, threads: async () => [], changes: async () => [] },
    nearness: options.nearness ?? { ask: noNearness, levels: noNearness },
    scanFits: options.scanFits ?? { ask: noMeshes, copy: noMeshes },
    meshes: options.meshes ?? {
      readPart: noMeshes,
      exportPart: noMeshes,
      mended: noMeshes,
      report: noMeshes,
      poses: noMeshes,
    },
    ...(options.checks && { checks: options.checks }),
    ...(options.webDir !== undefined && { webDir: options.webDir }),
  });
  server.on('request', http.app);
  const origin = `http://127.0.0.1:${port}`;
  const people = peopleOf(auth, () => visitorAt(origin));
  return {
    ...{ origin, dataDir, records, blobs, auth, clock, http, alarms, read },
    visitor: () => visitorAt(origin),
    person: people,
    project: async (roles) => {
      const at = new Date(clock.now()).toISOString();
      const id = Buffer.from(random(6)).toString('hex');
      for (const [index, [login, held]] of Object.entries(roles).entries()) {
        const { account } = await people(login);
        const member = { projectId: id, accountId: account.id, roles: held };
        if (index === 0) await records.addProject({ id, name: `Job ${id}`, createdAt: at }, member);
        else await records.putMember(member);
      }
      return id;
    },
    close: async () => {
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
      folder.dispose();
    },
  };
}

function configured(config: Config, port: number, { requestsPerMinute }: TestServerOptions): Config {
  return { ...withPort(config, port), ...(requestsPerMinute !== undefined && { requestsPerMinute }) };
}

function peopleOf(auth: Auth, visitor: () => Visitor): TestServer['person'] {
  const known = new Map<string, { visitor: Visitor; account: Account }>();
  return async (login) => {
    const before = known.get(login);
    if (before) return before;
    const account = await auth.addAccount({ name: `Name of ${login}`, login, password: testPassword });
    if ('problem' in account) throw new Error(account.problem);
    const person = { visitor: visitor(), account };
    const answer = await person.visitor.send('POST', '/api/session', { login, password: testPassword });
    if (answer.status !== 200) throw new Error(`sign-in answered ${answer.status}`);
    known.set(login, person);
    return person;
  };
}

function visitorAt(origin: string): Visitor {
  let cookie = '';
  return {
    get cookie() {
      return cookie;
    },
    send: async (method, path, body, headers = {}) => {
      const json = body === undefined ? {} : { 'Content-Type': 'application/json' };
      const answer = await fetch(new URL(path, origin), {
        method,
        headers: { Origin: origin, ...(cookie && { Cookie: cookie }), ...json, ...headers },
        ...(body !== undefined && { body: isRaw(body) ? body : JSON.stringify(body) }),
      });
      for (const set of answer.headers.getSetCookie()) {
        cookie = set.includes('Max-Age=0') ? '' : (set.split(';')[0] ?? '');
      }
      const bytes = new Uint8Array(await answer.arrayBuffer());
      return { status: answer.status, headers: answer.headers, body: parsed(bytes), bytes };
    },
  };
}

/** What goes over the wire as it is. */
function isRaw(body: unknown): body is string | Uint8Array<ArrayBuffer> {
  return typeof body === 'string' || body instanceof Uint8Array;
}

function parsed(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(Buffer.from(bytes).toString('utf8'));
  } catch {
    return undefined;
  }
}

/** One point a line "x y z", "missed" for one without a place; anything else is a problem. Small enough to be checked by eye. */
function textMeasure(read: TestServer['read'], beforeRead?: () => void): Measure {
  const pointsIn = ({ file, metresPerUnit }: ScanFile) =>
    readFileSync(file, 'utf8')
      .trim()
      .split('\n')
      .filter((line) => line !== 'missed')
      .map((line) => line.split(' ').map((text) => Number(text) * metresPerUnit));
  return {
    readScan: async (scan) => {
      const content = readFileSync(scan.file, 'utf8');
      read.push({ scan, content });
      beforeRead?.();
      const points = pointsIn(scan);
      const bad = points.findIndex((point) => point.length !== 3 || !point.every(Number.isFinite));
      if (bad >= 0) {
        return { kind: 'problem', message: `line ${bad + 1} is no point`, expected: 'x y z', came: 'other text' };
      }
      const over = (pick: (...values: number[]) => number) => (axis: number) =>
        points.map((point) => point[axis] ?? Number.NaN).reduce((a, b) => pick(a, b));
      const corner = (of: (axis: number) => number): [number, number, number] => [of(0), of(1), of(2)];
      const bounds = { min: corner(over(Math.min)), max: corner(over(Math.max)) };
      return {
        kind: 'read',
        points: points.length,
        format: 'xyz',
        bounds,
        spacing: null,
        unplaced: content.split('missed').length - 1,
      };
    },
    tiles: async (scan) => {
      const { index, tiles } = await encodeTiles(buildPointGrid(Float32Array.from(pointsIn(scan).flat()), [0, 0, 0]));
      const all = Buffer.concat(tiles);
      return { index, length: all.length, bytes: async (from, end) => all.subarray(from, end) };
    },
  };
}
