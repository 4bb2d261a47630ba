import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import * as Y from 'yjs';
import { readConfig } from '../../server/config.ts';
import { type RunningServer, startServer } from '../../server/main.ts';
import type { Account } from '../../server/storage/ports.ts';
import type { Role } from '../../shared/gates/roles.ts';
import type { DocumentName } from '../../shared/protocol/sync.ts';
import { SPEC_ROOT } from '../../shared/spec/reader.ts';
import { baseEntries } from './baseSpec.ts';
import { testFolder } from './folder.ts';
import { type LiveDocumentClient, openLiveDocument } from './liveDocument.ts';
import { type LiveFeedClient, openLiveFeed } from './liveFeed.ts';
import { Signal } from './liveSignal.ts';

export const livePassword = 'copper lantern oyster vigil';

/** A person with an account and a session on a live server. */
export interface LivePerson {
  readonly account: Account;
  readonly cookie: string;
}

/** The real server, its people, and real clients of theirs. */
export interface LiveServer {
  readonly server: RunningServer;
  readonly origin: string;
  readonly dataDir: string;
  readonly signal: Signal;
  /** The account is made when it is new. */
  person(login: string): Promise<LivePerson>;
  /** A project with these people in it, by login, and a spec that passes every rule that needs no scan. */
  project(people: Readonly<Record<string, readonly Role[]>>, entries?: ReadonlyMap<string, unknown>): Promise<string>;
  document(person: LivePerson, project: string, name?: DocumentName): LiveDocumentClient;
  feed(person: Pick<LivePerson, 'cookie'>, project: string): LiveFeedClient;
  http(person: LivePerson | null, method: string, path: string, body?: unknown): Promise<LiveAnswer>;
  /** Closes the clients and the server, and removes its folder unless it was given. */
  close(): Promise<void>;
}

export interface LiveAnswer {
  readonly status: number;
  readonly body: Record<string, unknown>;
}

export interface LiveOptions {
  /** Where an earlier server left its data. */
  readonly dataDir?: string;
  /** More settings, as the environment gives them. */
  readonly env?: Readonly<Record<string, string>>;
}

/** Rows whose checks wait for a scan, a part or a worker. */
const MEASURED = ['components.', 'pieces.', 'holes.'] as const;

/** The base spec without what is measured: nothing in it waits for a worker, so its design gate needs only its ticks. */
export function signableEntries(): Map<string, unknown> {
  return new Map([...baseEntries()].filter(([path]) => !MEASURED.some((rows) => path.startsWith(rows))));
}

/** Puts a spec into a project that nobody has open. */
export async function writeEntries(
  { store }: Pick<RunningServer, 'store'>,
  at: { readonly project: string; readonly by: string },
  entries: ReadonlyMap<string, unknown>,
): Promise<void> {
  const doc = new Y.Doc();
  doc.transact(() => {
    for (const [key, value] of entries) doc.getMap<unknown>(SPEC_ROOT).set(key, value);
  });
  await store.journal.append(at.project, 'spec', Y.encodeStateAsUpdate(doc), at.by);
  await store.records.bindClient({
    ...{ projectId: at.project, doc: 'spec', clientId: doc.clientID, accountId: at.by },
  });
}

/** Starts the real server on a free port with a folder of its own. */
export async function liveServer(options: LiveOptions = {}): Promise<LiveServer> {
  const folder = testFolder();
  const dataDir = options.dataDir ?? join(folder.path, 'data');
  mkdirSync(dataDir, { recursive: true });
  const reading = readConfig({ SLIPJOINT_DATA: dataDir, PORT: '0', ...options.env });
  if (!reading.ok) throw new Error(reading.problems.join());
  const server = await startServer({ config: reading.config, logLevel: 'silent' });
  const origin = `http://127.0.0.1:${server.config.port}`;
  const signal = new Signal();
  const clients: { close(): void }[] = [];
  const keep = <T extends { close(): void }>(client: T): T => {
    clients.push(client);
    return client;
  };
  const person = peopleOf(server);
  return {
    ...{ server, origin, dataDir, signal, person },
    project: (people, entries = baseEntries()) => addProject(server, { person, people, entries }),
    document: (who, project, name = 'spec') =>
      keep(openLiveDocument({ origin, cookie: who.cookie, project, name, signal })),
    feed: (who, project) => keep(openLiveFeed({ origin, cookie: who.cookie, project, signal })),
    http: (who, method, path, body) => ask(origin, { cookie: who?.cookie, method, path, body }),
    close: async () => {
      for (const client of clients) client.close();
      await server.close();
      folder.dispose();
    },
  };
}

function peopleOf({ auth, store }: RunningServer): LiveServer['person'] {
  const known = new Map<string, Promise<LivePerson>>();
  const make = async (login: string): Promise<LivePerson> => {
    const made = await auth.addAccount({ name: `Name of ${login}`, login, password: livePassword });
    const account = 'problem' in made ? await store.records.accountByLogin(login) : made;
    if (!account) throw new Error(`no account ${login}`);
    const signed = await auth.signIn({ login, password: livePassword, address: `test of ${login}` });
    if (signed.kind !== 'signed-in') throw new Error(`sign-in of ${login}: ${signed.kind}`);
    return { account, cookie: signed.cookie.split(';')[0] ?? '' };
  };
  return (login) => {
    const there = known.get(login) ?? make(login);
    known.set(login, there);
    return there;
  };
}

interface ProjectParts {
  readonly person: LiveServer['person'];
  readonly people: Readonly<Record<string, readonly Role[]>>;
  readonly entries: ReadonlyMap<string, unknown>;
}

let projects = 0;

async function addProject(server: RunningServer, { person, people, entries }: ProjectParts): Promise<string> {
  const id = `job-${projects++}`;
  let first = '';
  for (const [login, roles] of Object.entries(people)) {
    const accountId = (await person(login)).account.id;
    const member = { projectId: id, accountId, roles };
    if (first === '') {
      first = accountId;
      await server.store.records.addProject({ id, name: `Job ${id}`, createdAt: '2026-01-01T00:00:00.000Z' }, member);
    } else await server.store.records.putMember(member);
  }
  await writeEntries(server, { project: id, by: first }, entries);
  return id;
}

interface Question {
  readonly cookie: string | undefined;
  readonly method: string;
  readonly path: string;
  readonly body: unknown;
}

async function ask(origin: string, { cookie, method, path, body }: Question): Promise<LiveAnswer> {
  const answer = await fetch(new URL(path, origin), {
    method,
    headers: {
      Origin: origin,
      ...(cookie !== undefined && { Cookie: cookie }),
      ...(body !== undefined && { 'Content-Type': 'application/json' }),
    },
    ...(body !== undefined && { body: JSON.stringify(body) }),
  });
  const read: unknown = await answer.json().catch(() => ({}));
  return { status: answer.status, body: Object(read) };
}
