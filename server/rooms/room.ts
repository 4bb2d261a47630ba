import * as Y from 'yjs';
import { type GateView, gateViews } from '../../shared/gates/readiness.ts';
import { MARKUP_ROOT, readThreads, type Thread } from '../../shared/markup/markup.ts';
import type { FeedSnapshot } from '../../shared/protocol/events.ts';
import { PROTOCOL } from '../../shared/protocol/events.ts';
import { type DocumentName, documents } from '../../shared/protocol/sync.ts';
import type { Measurements } from '../../shared/quantities/context.ts';
import type { Decided } from '../../shared/record/decided.ts';
import { createEngine, type Delta } from '../../shared/rules/engine.ts';
import { RULE_SET, rules } from '../../shared/rules/registry.ts';
import type { Verdict } from '../../shared/rules/verdict.ts';
import { createSpecReader, readSpec, SPEC_ROOT, type SpecReader } from '../../shared/spec/reader.ts';
import type { Spec } from '../../shared/spec/spec.ts';
import type { Clock } from '../ambient.ts';
import type { Journal, Records } from '../storage/ports.ts';
import { afterVerdicts, DocumentHub, type Later } from '../sync/hub.ts';
import type { ClientOwners, EntryChange, Refused } from '../sync/intake.ts';
import { ChangeKeeper } from './changeKeeper.ts';
import type { RoomFeed } from './feedPort.ts';
import { GateBoard } from './gateBoard.ts';
import { LiveVerdicts } from './liveVerdicts.ts';
import { policies } from './policies.ts';
import { ScriptHands } from './scriptHands.ts';

/** Journal entries of one document beyond which it is written again as one snapshot when it is next opened. */
const COMPACT_AFTER = 400;

export interface RoomDeps {
  readonly journal: Journal;
  readonly records: Records;
  readonly feed: RoomFeed;
  /** Measurements for this room; calls `arrived` when one that was pending is there. */
  readonly measurements: (arrived: () => void) => RoomMeasurements;
  readonly decided: (project: string) => Promise<Decided>;
  readonly now: () => number;
  /** Wall clock and timers, for what runs out at a date. */
  readonly clock: Clock;
  readonly after: (ms: number, run: () => void) => () => void;
  readonly warn: (event: string, detail: Readonly<Record<string, unknown>>) => void;
  /** Told when a change could not be stored. */
  readonly notKept?: (reason: string) => void;
  /** Frames a document connection may send; see the hub. */
  readonly rate?: { readonly burst: number; readonly perSecond: number };
  /** When others' changes and the gates go out after a verdict; see the hub. */
  readonly later?: Later;
  /** Told when all that a change brings about is on its way to everybody. */
  readonly answered?: () => void;
  /** Told when a gate or a markup is another than before: somebody may have to be told of it. Also once when a room was opened. */
  readonly noted?: (project: string) => void;
}

export interface RoomMeasurements extends Measurements {
  /** Called after an evaluation, with the names of the measurements that verdicts now wait for: no others need be made any more. */
  settle(waited: () => Iterable<string>): void;
  close(): void;
}

interface Grown {
  readonly project: string;
  readonly name: DocumentName;
  readonly doc: Y.Doc;
  readonly seq: number;
}

/** A disk that takes no writes must not keep anybody from reading. */
async function compact({ project, name, doc, seq }: Grown, { journal, warn }: RoomDeps): Promise<void> {
  await journal
    .replaceWithSnapshot(project, name, Y.encodeStateAsUpdate(doc), seq)
    .catch((error: unknown) => warn('not-compacted', { project, document: name, error: String(error) }));
}

/** A live project: its documents, its engine and its feed. */
export class Room {
  readonly project: string;
  /** Who changed what in the spec. */
  readonly changes: ChangeKeeper;
  private readonly deps: RoomDeps;
  private readonly later: Later;
  private readonly hubs: Readonly<Record<DocumentName, DocumentHub>>;
  private readonly reader: SpecReader;
  private readonly verdicts: LiveVerdicts;
  private readonly measured: RoomMeasurements;
  private readonly board: GateBoard;
  private readonly hands = new ScriptHands();
  private rev = 0;
  private seq: number;
  private closed = false;

  private constructor(project: string, deps: RoomDeps, loaded: Loaded) {
    this.project = project;
    this.changes = loaded.changes;
    this.deps = deps;
    this.later = deps.later ?? afterVerdicts;
    this.seq = loaded.seq;
    this.hubs = { spec: this.hub('spec', loaded), markup: this.hub('markup', loaded) };
    this.reader = createSpecReader(loaded.docs.spec);
    this.measured = deps.measurements(() => this.verdicts.remeasured());
    this.verdicts = new LiveVerdicts({
      ahead: () => this.hubs.spec.ahead(),
      entries: loaded.docs.spec.getMap<unknown>(SPEC_ROOT),
      measured: this.measured,
      alarm: (verdict) => deps.warn('rule-fault', { project, verdict: verdict.key, why: verdict }),
      publish: (delta, seq) => this.publish(delta, seq ?? this.seq),
    });
    this.board = new GateBoard(
      {
        spec: () => this.reader.current(),
        verdicts: () => this.verdicts.verdicts().values(),
        gates: (message) => {
          deps.feed.gates(project, message);
          deps.noted?.(project);
        },
        decided: (message) => deps.feed.decided(project, message),
        ...{ clock: deps.clock, after: deps.after },
      },
      loaded.decided,
    );
  }

  /** Loads a project's documents from the journal; compacts what has grown. */
  static async open(project: string, deps: RoomDeps): Promise<Room> {
    const docs = { spec: new Y.Doc({ gc: true }), markup: new Y.Doc({ gc: true }) };
    const owners = { spec: new Map<number, string>(), markup: new Map<number, string>() };
    const changes = new ChangeKeeper({ project, changes: deps.journal.changes, warn: deps.warn });
    for (const name of documents) {
      const { updates, seq } = await deps.journal.load(project, name);
      for (const update of updates) Y.applyUpdate(docs[name], update, { kind: 'load' });
      if (name === 'spec') await changes.reach(seq);
      if (updates.length > COMPACT_AFTER && (name !== 'spec' || changes.complete))
        await compact({ project, name, doc: docs[name], seq }, deps);
      owners[name] = new Map(await deps.records.clientBindings(project, name));
    }
    const [seq, decided] = await Promise.all([deps.journal.head(project), deps.decided(project)]);
    return new Room(project, deps, { docs, owners, changes, seq, decided });
  }

  document(name: DocumentName): DocumentHub {
    return this.hubs[name];
  }

  spec(): Spec {
    return this.reader.current();
  }

  /** Entries of the spec document, for export. */
  entries(): ReadonlyMap<string, unknown> {
    return new Map(this.hubs.spec.doc.getMap<unknown>(SPEC_ROOT).entries());
  }

  /** The markups, oldest number first. */
  threads(): readonly Thread[] {
    return readThreads(this.hubs.markup.doc.getMap<unknown>(MARKUP_ROOT));
  }

  /** As of all that is in the documents: what waits for the end of the turn is evaluated now. */
  snapshot(): FeedSnapshot {
    this.verdicts.judge();
    this.board.publish();
    return {
      protocol: PROTOCOL,
      project: this.project,
      rev: this.rev,
      seq: this.seq,
      ruleSet: RULE_SET,
      verdicts: [...this.verdicts.verdicts().values()],
      gates: this.board.gates(),
      ...this.board.message(),
    };
  }

  /** Everything a signature rests on, evaluated from scratch on the server's own copy: nothing incremental is trusted here. */
  evidence({ signatures, plan, concessions }: Decided): {
    readonly spec: Spec;
    readonly verdicts: readonly Verdict[];
    readonly gates: readonly GateView[];
    /** Journal number up to which it is kept. */
    readonly seq: number;
    /** Ms since 1970. */
    readonly now: number;
  } {
    const spec = readSpec(this.hubs.spec.doc.getMap<unknown>(SPEC_ROOT));
    const engine = createEngine({ rules, measured: this.measured });
    engine.evaluate(spec);
    const verdicts = [...engine.verdicts().values()];
    const now = this.deps.clock();
    const decided = { signatures, plan: plan.plan, concessions, now };
    const gates = gateViews({ spec, verdicts, rules, ruleSet: RULE_SET, ...decided });
    return { spec, verdicts, gates, seq: this.seq, now };
  }

  /** Reads the record again after a row was added. */
  async decidedMore(): Promise<void> {
    this.board.decide(await this.deps.decided(this.project));
  }

  /** Writes into a document for an account that has no socket open. */
  write(name: DocumentName, account: string, change: (doc: Y.Doc) => void): Promise<number | Refused> {
    return this.hands.write(this.hubs[name], account, change);
  }

  /** Journal number of the last change in any document. */
  seqNow(): number {
    return this.seq;
  }

  idle(): boolean {
    return documents.every((name) => this.hubs[name].idle());
  }

  expel(account: string): void {
    for (const name of documents) this.hubs[name].expel(account);
  }

  endSession(session: string): void {
    for (const name of documents) this.hubs[name].endSession(session);
  }

  close(): void {
    this.closed = true;
    void this.changes.settled();
    this.board.close();
    this.verdicts.close();
    this.measured.close();
    this.reader.destroy();
    for (const name of documents) {
      this.hubs[name].destroy();
      this.hubs[name].doc.destroy();
    }
  }

  private hub(name: DocumentName, loaded: Loaded): DocumentHub {
    return new DocumentHub(loaded.docs[name], {
      policy: policies[name],
      owners: this.owners(name, loaded.owners[name]),
      append: (update, account) => this.deps.journal.append(this.project, name, update, account),
      applied: (seq) => {
        this.seq = Math.max(this.seq, seq);
        if (name === 'spec') this.verdicts.stored(seq);
        else this.deps.noted?.(this.project);
      },
      ...(name === 'spec' && {
        accepted: (keys: Iterable<string>) => this.verdicts.take(keys),
        wrote: (seq: number, changes: Iterable<EntryChange>) => this.changes.wrote(seq, changes),
        lost: () => this.verdicts.lost(),
      }),
      refused: (refused, account) => {
        this.deps.warn('update-refused', { project: this.project, document: name, account, ...refused });
        if (refused.code === 'not-kept') this.deps.notKept?.(refused.reason);
      },
      seq: loaded.seq,
      now: this.deps.now,
      later: this.later,
      ...(this.deps.rate && { rate: this.deps.rate }),
    });
  }

  private owners(name: DocumentName, bound: Map<number, string>): ClientOwners {
    return {
      owner: (client) => bound.get(client),
      claim: async (client, account) => {
        bound.set(client, account);
        const owner = await this.deps.records
          .bindClient({ projectId: this.project, doc: name, clientId: client, accountId: account })
          .catch((error: unknown) => {
            bound.delete(client);
            throw error;
          });
        bound.set(client, owner);
        if (owner !== account) throw new Error(`client id ${client} belongs to another account`);
      },
    };
  }

  private publish({ changed, cleared }: Delta, seq: number): void {
    if (this.closed) return;
    this.rev += 1;
    this.deps.feed.delta(this.project, { rev: this.rev, seq, changed, cleared });
    this.board.moved();
    // Readers wait for verdicts first.
    this.later(() => {
      this.board.publish();
      this.deps.answered?.();
    });
  }
}

interface Loaded {
  readonly docs: Readonly<Record<DocumentName, Y.Doc>>;
  readonly owners: Readonly<Record<DocumentName, Map<number, string>>>;
  readonly changes: ChangeKeeper;
  readonly seq: number;
  readonly decided: Decided;
}
