import * as Y from 'yjs';
import { openJournal } from '../../server/storage/embedded/journal.ts';
import { seededRandom } from '../../shared/geometry/random.ts';
import { type DocumentName, documents } from '../../shared/protocol/sync.ts';
import { type LivePerson, liveServer, signableEntries } from '../support/live.ts';
import { type LiveDocumentClient, openLiveDocument } from '../support/liveDocument.ts';
import { freePort, type ServerProcess, spawnServer } from '../support/liveProcess.ts';
import { Signal } from '../support/liveSignal.ts';
import { SigningClerk } from './signingClerk.ts';

/** What a run of kills did and found. */
export interface KillReport {
  readonly seed: number;
  readonly from: 'dist' | 'source';
  readonly cycles: number;
  /** Edits acknowledged, and those of them that were not on disk after a kill. */
  readonly acknowledged: number;
  readonly lost: readonly string[];
  /** Edits that were acknowledged when the server was killed for the last time, each looked for on disk after every kill since. */
  readonly soughtOnDisk: number;
  /** Cycles after which clients and server did not have the same content. */
  readonly diverged: readonly number[];
  /** Sign-offs answered with success, those of them missing later, and what is wrong with the chain. */
  readonly signed: number;
  readonly signaturesLost: number;
  readonly chainFaults: readonly string[];
}

export interface KillOptions {
  readonly dataDir: string;
  readonly cycles: number;
  readonly seed: number;
  readonly say?: (line: string) => void;
}

const WRITERS = ['ann', 'bob', 'wes', 'bob'];
/** Below the server's limit of frames. */
const EDIT_EVERY_MS = 12;
/** Facts that the scan gate does not cover, so that it can be signed while they move. */
const FIELDS = ['joints.j1.current', 'joints.j1.voltage', 'purges.p1.flow', 'purges.p1.volume'] as const;

/** One person with both documents open, writing; every edit can be told from every other. */
class Writer {
  readonly clients: Readonly<Record<DocumentName, LiveDocumentClient>>;
  /** Key and value an edit wrote, by document and number. */
  private readonly written = new Map<string, { readonly key: string; readonly n: number }>();
  private readonly name: string;
  private readonly account: string;
  private count = 0;
  private timer: NodeJS.Timeout | undefined;

  constructor(name: string, account: string, open: (document: DocumentName) => LiveDocumentClient) {
    this.name = name;
    this.account = account;
    this.clients = { spec: open('spec'), markup: open('markup') };
  }

  start(random: () => number): void {
    this.timer = setInterval(() => this.write(random), EDIT_EVERY_MS);
  }

  stop(): void {
    clearInterval(this.timer);
  }

  /** Every acknowledged edit, as it must be found: a comment under its own key, a field at least as new. */
  acknowledged(): { readonly document: DocumentName; readonly key: string; readonly n: number }[] {
    return documents.flatMap((document) =>
      [...this.clients[document].acknowledged].flatMap((edit) => {
        const entry = this.written.get(`${document}/${edit}`);
        return entry ? [{ document, ...entry }] : [];
      }),
    );
  }

  private write(random: () => number): void {
    const n = ++this.count;
    const document = random() < 0.5 ? 'spec' : 'markup';
    const key =
      document === 'markup' ? `t.${this.name}.c.n${n}` : `joints.w-${this.name}${random() < 0.5 ? '' : '.name'}`;
    const value =
      document === 'markup' ? { by: this.account, text: `comment ${n}` } : key.endsWith('.name') ? `name ${n}` : n;
    const edit = this.clients[document].set(key, value);
    this.written.set(`${document}/${edit}`, { key, n });
    if (random() < 0.2) this.clients.spec.set(FIELDS[Math.floor(random() * FIELDS.length)] ?? FIELDS[0], 1 + random());
  }

  close(): void {
    this.stop();
    for (const document of documents) this.clients[document].close();
  }
}

/** What is on disk, with no server running. */
async function onDisk(dataDir: string, project: string): Promise<Record<DocumentName, Y.Map<unknown>>> {
  const journal = await openJournal({ file: `${dataDir}/journal.db` });
  const read = async (name: DocumentName): Promise<Y.Map<unknown>> => {
    const doc = new Y.Doc();
    for (const update of (await journal.load(project, name)).updates) Y.applyUpdate(doc, update);
    if (doc.store.pendingStructs !== null) throw new Error(`${name}: the journal has a gap`);
    return doc.getMap(name);
  };
  const found = { spec: await read('spec'), markup: await read('markup') };
  await journal.close();
  return found;
}

const numberIn = (value: unknown): number =>
  typeof value === 'number' ? value : Number(typeof value === 'string' ? /\d+/.exec(value)?.[0] : Number.NaN);

function missing(writers: readonly Writer[], found: Record<DocumentName, Y.Map<unknown>>): string[] {
  return writers.flatMap((writer) =>
    writer.acknowledged().flatMap(({ document, key, n }) => {
      const value = found[document].get(key);
      const there = document === 'markup' ? value !== undefined : numberIn(value) >= n;
      return there ? [] : [`${document} ${key} #${n}`];
    }),
  );
}

interface People {
  readonly project: string;
  readonly people: ReadonlyMap<string, LivePerson>;
}

async function prepare(dataDir: string): Promise<People> {
  const live = await liveServer({ dataDir });
  const project = await live.project({ ann: ['lead'], bob: ['designer'], wes: ['welder'] }, signableEntries());
  const people = new Map<string, LivePerson>();
  for (const login of ['ann', 'bob', 'wes']) people.set(login, await live.person(login));
  await live.close();
  return { project, people };
}

class KillRun {
  private readonly options: KillOptions;
  private readonly random: () => number;
  private readonly signal = new Signal();
  private readonly port: number;
  private readonly people: People;
  private readonly lost = new Set<string>();
  private readonly diverged: number[] = [];
  private writers: Writer[] = [];
  private sought = 0;

  constructor(options: KillOptions, port: number, people: People) {
    this.options = options;
    this.port = port;
    this.people = people;
    this.random = seededRandom(options.seed);
  }

  async run(): Promise<KillReport> {
    const origin = `http://127.0.0.1:${this.port}`;
    const clerk = new SigningClerk({ origin, ...this.people });
    let server = await this.start();
    this.writers = WRITERS.map((login, i) => this.writer(login, i, origin));
    for (let cycle = 1; cycle <= this.options.cycles; cycle++) {
      await this.whileWriting(server, clerk);
      this.sought = this.writers.reduce((sum, w) => sum + w.acknowledged().length, 0);
      for (const what of missing(this.writers, await onDisk(this.options.dataDir, this.people.project)))
        this.lost.add(what);
      server = await this.start();
      if (!(await this.converged())) this.diverged.push(cycle);
      await clerk.check();
      this.options.say?.(`cycle ${cycle}: ${this.acknowledged()} acknowledged, ${this.lost.size} lost`);
    }
    for (const writer of this.writers) writer.close();
    await server.stop();
    return { ...this.report(server.from), ...clerk.report() };
  }

  private start(): Promise<ServerProcess> {
    return spawnServer({ dataDir: this.options.dataDir, port: this.port });
  }

  private writer(login: string, i: number, origin: string): Writer {
    const person = this.people.people.get(login);
    if (!person) throw new Error(`no ${login}`);
    const { project } = this.people;
    return new Writer(`${login}${i}`, person.account.id, (name) =>
      openLiveDocument({ ...{ origin, project, name }, cookie: person.cookie, signal: this.signal }),
    );
  }

  /** Everybody writes, somebody signs, and at some moment the server is gone. */
  private async whileWriting(server: ServerProcess, clerk: SigningClerk): Promise<void> {
    await this.everybody((c) => c.provider.synced, 'everybody in step');
    for (const writer of this.writers) writer.start(this.random);
    const first = this.writers[0]?.clients.spec;
    const signing = first ? clerk.sign(first) : Promise.resolve();
    await new Promise((resolve) => setTimeout(resolve, 40 + this.random() * 600));
    await server.kill();
    await signing;
    for (const writer of this.writers) writer.stop();
  }

  private everybody(holds: (client: LiveDocumentClient) => boolean, what: string): Promise<void> {
    const clients = this.writers.flatMap((w) => documents.map((d) => w.clients[d]));
    return this.signal
      .until(() => clients.every(holds), what, 30_000)
      .catch((error: unknown) => {
        const states = clients.map((c) => [
          c.provider.synced,
          c.unconfirmed(),
          c.closed.slice(-3),
          c.refused.slice(-2),
        ]);
        throw new Error(`${String(error)} ${JSON.stringify(states)}`);
      });
  }

  private async converged(): Promise<boolean> {
    await this.everybody(
      (c) => c.provider.synced && c.unconfirmed() === 0,
      'everybody in step again, all acknowledged',
    );
    const content = (map: Y.Map<unknown>): string =>
      JSON.stringify([...map.entries()].sort(([a], [b]) => (a < b ? -1 : 1)));
    const same = (document: DocumentName): boolean =>
      new Set(this.writers.map((w) => content(w.clients[document].map))).size === 1;
    return this.signal
      .until(() => documents.every(same), 'the same content everywhere')
      .then(
        () => true,
        () => false,
      );
  }

  private acknowledged(): number {
    return this.writers.reduce((sum, w) => sum + documents.reduce((n, d) => n + w.clients[d].acknowledged.size, 0), 0);
  }

  private report(from: 'dist' | 'source'): Omit<KillReport, 'signed' | 'signaturesLost' | 'chainFaults'> {
    return {
      ...{ seed: this.options.seed, from, cycles: this.options.cycles, acknowledged: this.acknowledged() },
      ...{ lost: [...this.lost], diverged: this.diverged, soughtOnDisk: this.sought },
    };
  }
}

/**
 * Kills the server while everybody writes, as often as asked: after each kill every acknowledged edit must be on disk before the
 * server runs again, then all clients must come to the same content, and the record must hold every sign-off that was answered.
 */
export async function runKillCycles(options: KillOptions): Promise<KillReport> {
  const people = await prepare(options.dataDir);
  return new KillRun(options, await freePort(), people).run();
}
