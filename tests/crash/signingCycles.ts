import { nodeChecks, signatureHolds } from '../../server/record/signatures.ts';
import { gateRow } from '../../shared/gates/gates.ts';
import { seededRandom } from '../../shared/geometry/random.ts';
import { recordFileSchema } from '../../shared/record/recordFile.ts';
import { readStatement } from '../../shared/record/statement.ts';
import { verifyRecord } from '../../shared/record/verifyRecord.ts';
import { RULE_SET } from '../../shared/rules/registry.ts';
import { type LivePerson, livePassword, liveServer, signableEntries } from '../support/live.ts';
import { type LiveDocumentClient, openLiveDocument } from '../support/liveDocument.ts';
import { freePort, type ServerProcess, spawnServer } from '../support/liveProcess.ts';
import { Signal } from '../support/liveSignal.ts';

/** What a run of kills during signing did and found. */
export interface SigningReport {
  readonly seed: number;
  readonly from: 'dist' | 'source';
  readonly cycles: number;
  /** Statements read to be signed, rows that came of them, and how many of those were answered. */
  readonly offered: number;
  readonly rows: number;
  readonly answered: number;
  /** Rows that were written though the kill came before their answer. */
  readonly unanswered: number;
  /** In words: a signature that is lost, halved, doubled, or a record that does not verify. */
  readonly faults: readonly string[];
}

export interface SigningOptions {
  readonly dataDir: string;
  readonly cycles: number;
  readonly seed: number;
  readonly say?: (line: string) => void;
}

interface Answer {
  readonly status: number;
  readonly body: Record<string, unknown>;
}

/** The kill comes within so many times as long as a signature is taken to take. */
const KILL_WITHIN = 1.5;
/** That at first, ms; each kill that came too early or too late moves it, so that most come in the midst. */
const FIRST_GUESS = 300;
const [LONGER, SHORTER] = [1.15, 0.87];

class SigningRun {
  private readonly random: () => number;
  private readonly options: SigningOptions;
  private readonly at: { readonly port: number; readonly project: string; readonly ann: LivePerson };
  private readonly origin: string;
  private readonly signal = new Signal();
  /** Hash of the row that was answered, by nonce; null while none was. */
  private readonly offered = new Map<string, string | null>();
  private readonly faults: string[] = [];
  private rows = 0;
  /** How long a signature is taken to take, ms. */
  private takes = FIRST_GUESS;
  private tries = 0;

  constructor(options: SigningOptions, at: SigningRun['at']) {
    this.options = options;
    this.at = at;
    this.random = seededRandom(options.seed);
    this.origin = `http://127.0.0.1:${at.port}`;
  }

  async run(): Promise<SigningReport> {
    const { cycles, seed, dataDir, say } = this.options;
    const { port, project, ann } = this.at;
    const start = (): Promise<ServerProcess> => spawnServer({ dataDir, port });
    let server = await start();
    const { cookie } = ann;
    const spec = openLiveDocument({ origin: this.origin, cookie, project, name: 'spec', signal: this.signal });
    for (let cycle = 1; cycle <= cycles; cycle++) {
      await this.signal.until(() => spec.provider.synced, 'the clerk in step', 30_000);
      await this.signUntilKilled(server, spec);
      server = await start();
      await this.check(cycle);
      say?.(`cycle ${cycle}: ${this.offered.size} offered, ${this.rows} rows, ${this.faults.length} faults`);
    }
    spec.close();
    await server.stop();
    const answered = [...this.offered.values()].filter((hash) => hash !== null).length;
    const counts = { offered: this.offered.size, rows: this.rows, answered, unanswered: this.rows - answered };
    return { seed, from: server.from, cycles, ...counts, faults: this.faults };
  }

  /** Signs ever new facts, each twice at the same moment, until the server is gone in the middle of it. */
  private async signUntilKilled(server: ServerProcess, spec: LiveDocumentClient): Promise<void> {
    const part = this.random() * KILL_WITHIN;
    let killed: Promise<void> | undefined;
    const begin = (): void => {
      killed ??= new Promise((resolve) => setTimeout(resolve, part * this.takes)).then(() => server.kill());
    };
    try {
      while (!server.child.killed) await this.signOnce(spec, begin);
    } catch {
      // The server is gone: nothing was promised.
    }
    begin();
    await killed;
    this.takes *= [...this.offered.values()].at(-1) === null ? LONGER : SHORTER;
  }

  private async signOnce(spec: LiveDocumentClient, begin: () => void): Promise<void> {
    this.tries += 1;
    const by = this.at.ann.account.id;
    spec.edit(() => {
      for (const { id } of gateRow('scan').items)
        spec.map.set(`ticks.scan.${id}`, { done: true, note: `look ${this.tries}`, by });
    });
    await spec.kept();
    const gates = (await this.ask('GET', 'gates')).body.gates as readonly { gate: string; digest: string }[];
    const digest = gates.find(({ gate }) => gate === 'scan')?.digest;
    const request = { role: 'lead', meaning: 'released', ruleSet: RULE_SET, initials: 'A', confirmedBy: 'password' };
    const { status, body } = await this.ask('POST', 'gates/scan/challenge', { ...request, digest });
    if (status !== 201) throw new Error(JSON.stringify(body));
    const nonce = String(body.nonce);
    this.offered.set(nonce, null);
    begin();
    const began = performance.now();
    const both = await Promise.allSettled([this.sign(nonce), this.sign(nonce)]);
    const hashes = both.flatMap((one) => (one.status === 'fulfilled' && one.value.status === 201 ? [one.value] : []));
    if (hashes.length > 1) this.faults.push(`${nonce} was signed twice`);
    if (hashes.length === 1) this.takes = performance.now() - began;
    for (const { body: signed } of hashes) this.offered.set(nonce, String(signed.hash));
    if (both.some((one) => one.status === 'rejected')) throw new Error('gone');
  }

  private sign(nonce: string): Promise<Answer> {
    return this.ask('POST', 'gates/scan/signatures', { nonce, password: livePassword });
  }

  /** Holds the record against what was answered, then tries to sign once more what was read before the kill. */
  private async check(cycle: number): Promise<void> {
    await this.compare(cycle);
    const last = [...this.offered.keys()].at(-1);
    if (last === undefined) return;
    const { status } = await this.sign(last);
    if (status !== 410) this.faults.push(`cycle ${cycle}: what was read before the kill was answered with ${status}`);
    await this.compare(cycle);
  }

  private async compare(cycle: number): Promise<void> {
    const fault = (text: string): void => void this.faults.push(`cycle ${cycle}: ${text}`);
    const record = recordFileSchema.parse((await this.ask('GET', 'record')).body);
    const sound = verifyRecord(record, { signatureHolds, ...nodeChecks });
    if (!sound.ok) fault(sound.reason);
    const seen = new Map<string, string>();
    for (const row of record.rows) {
      const nonce = readStatement(row.statement)?.nonce ?? '';
      if (seen.has(nonce)) fault(`${nonce} stands in two rows`);
      if (!this.offered.has(nonce)) fault(`row ${row.seq} was never offered`);
      seen.set(nonce, row.hash);
    }
    for (const [nonce, hash] of this.offered)
      if (hash !== null && seen.get(nonce) !== hash) fault(`${nonce} was answered and is not there`);
    if (record.heads.map(({ size }) => size).join() !== record.rows.map(({ seq }) => seq).join())
      fault(`${record.heads.length} heads for ${record.rows.length} rows`);
    this.rows = record.rows.length;
  }

  private async ask(method: string, path: string, body?: unknown): Promise<Answer> {
    const answer = await fetch(`${this.origin}/api/projects/${this.at.project}/${path}`, {
      method,
      headers: { Origin: this.origin, Cookie: this.at.ann.cookie, 'Content-Type': 'application/json' },
      ...(body !== undefined && { body: JSON.stringify(body) }),
    });
    return { status: answer.status, body: Object(await answer.json()) };
  }
}

/**
 * Kills the server while somebody signs, each statement twice at once, as often as asked: after each kill every signature is in the record
 * once or not at all, everyone that was answered is, and what was read before cannot be signed any more.
 */
export async function runSigningCycles(options: SigningOptions): Promise<SigningReport> {
  const live = await liveServer({ dataDir: options.dataDir });
  const project = await live.project({ ann: ['lead'] }, signableEntries());
  const ann = await live.person('ann');
  await live.close();
  return new SigningRun(options, { port: await freePort(), project, ann }).run();
}
