import * as Y from 'yjs';
import { mergeCost } from './mergeCost.ts';
import { type ClockRange, checkUpdate, type UpdateSummary } from './updateGate.ts';

/** Why an update was not taken. */
export interface Refused {
  readonly code: 'malformed' | 'gap' | 'limit' | 'forged' | 'not-allowed' | 'not-kept';
  readonly reason: string;
}

/** One entry an update would write. undefined: the key is absent. */
export interface EntryChange {
  readonly key: string;
  readonly before: unknown;
  readonly after: unknown;
}

/** What a document accepts. */
export interface IntakePolicy {
  readonly root: string;
  /** Says why an entry may not be written by this account, or null. */
  allow(change: EntryChange, account: string): string | null;
}

/** Which account first used a Yjs client id in this document. A second account under the same id is forgery. */
export interface ClientOwners {
  owner(client: number): string | undefined;
  /** Durable once resolved; `owner` knows it from the call on, and no longer once rejected. */
  claim(client: number, account: string): Promise<void>;
}

export interface IntakeOptions {
  readonly policy: IntakePolicy;
  readonly owners: ClientOwners;
  /** Resolves with a sequence number once the update is on disk. Keeps the order of the calls. */
  readonly append: (update: Uint8Array, account: string) => Promise<number>;
  /** Called with the keys an update wrote, once it is taken and on its way to disk: it will be in the live document unless the disk refuses it. */
  readonly accepted?: (keys: Iterable<string>) => void;
  /** Called when an accepted update could not be stored: it is not in the document and will not be. */
  readonly lost?: () => void;
  /** Called after an update is in the live document, in sequence. */
  readonly applied: (update: Uint8Array, from: unknown, seq: number) => void;
  /** Called after that with what the update changed. */
  readonly wrote?: (seq: number, changes: Iterable<EntryChange>) => void;
  /** Sequence number of what the document was loaded from. */
  readonly seq: number;
}

/** Who sends an update, and whether they may change anything. */
export interface Sender {
  readonly account: string;
  readonly from: unknown;
  readonly canWrite: boolean;
}

interface OnItsWay {
  readonly kept: Promise<number>;
  readonly changes: Iterable<EntryChange>;
  readonly update: Uint8Array;
  readonly from: unknown;
}

/** Largest number of structs of one document before it stops taking updates (own: reading it stays below a second). */
const MAX_STRUCTS = 200_000;
/** Steps Yjs may take to place one update's items, some 0.6 µs each (measured). */
const MAX_MERGE_STEPS = 300_000;
/** Each new client id of an update is one more row; a device that was long offline has one for every visit. */
const MAX_NEW_CLIENTS = 500;

/**
 * Takes updates into one document: bounded pre-check, authorship, apply to a scratch copy, policy on what it would write,
 * durable append, then the live document. The live document never holds anything that is not on disk, and nothing half-applied.
 */
export class Intake {
  readonly live: Y.Doc;
  private readonly options: IntakeOptions;
  /** Live plus what is on its way to disk. Null after a refusal: made anew when it is next needed. */
  private scratch: Y.Doc | null = null;
  private changes = new Map<string, EntryChange>();
  private accepted: number;
  private readonly waiting: Uint8Array[] = [];
  /** Resolves once every client id claimed so far is safe: no update may reach the disk before its author is known there. */
  private claimed: Promise<unknown> = Promise.resolve();
  private failures = 0;
  /** Outcome of the last update on its way; never rejects. */
  private last: Promise<number | Refused>;

  constructor(live: Y.Doc, options: IntakeOptions) {
    this.live = live;
    this.options = options;
    this.accepted = options.seq;
    this.last = Promise.resolve(options.seq);
  }

  /** Resolves with the sequence number, or says why not. Never rejects. What is refused at once is refused in this call. */
  async take(update: Uint8Array, { account, from, canWrite }: Sender): Promise<number | Refused> {
    const scratch = this.current();
    const clockOf = (client: number): number => Y.getState(scratch.store, client);
    const checked = checkUpdate(update, { root: this.options.policy.root, clockOf });
    if (!checked.ok) return { code: checked.kind, reason: checked.reason };
    if (changesNothing(scratch, checked.summary)) return this.waiting.length > 0 ? this.last : this.accepted;
    if (!canWrite) return READER_WROTE;
    const refused =
      this.refuseAuthors(checked.summary, account) ??
      this.refuseCost(scratch, checked.summary) ??
      this.tryOnScratch(scratch, update, account);
    if (refused) return refused;
    const kept = this.keep(update, { account, from, clients: checked.summary.clients });
    this.options.accepted?.(this.changes.keys());
    return kept;
  }

  /** What the document holds once all that is on its way to disk is there. Another map after a refusal. */
  ahead(): Y.Map<unknown> {
    return this.current().getMap<unknown>(this.options.policy.root);
  }

  /** A client that will write names itself: its first edit then need not wait until its id is known on disk. */
  introduce(client: number, account: string): void {
    if (this.options.owners.owner(client) === undefined) this.claim([client], account);
  }

  /** True while an update is on its way to disk. */
  busy(): boolean {
    return this.waiting.length > 0;
  }

  /** Resolves once all that is on its way now is on disk, or is not. */
  async settled(): Promise<void> {
    await this.last;
  }

  destroy(): void {
    this.scratch?.destroy();
    this.scratch = null;
  }

  private refuseAuthors({ clients }: UpdateSummary, account: string): Refused | null {
    const { owners } = this.options;
    const forged = clients.find((c) => (owners.owner(c) ?? account) !== account);
    if (forged !== undefined) return { code: 'forged', reason: `client id ${forged} belongs to another account` };
    const unowned = clients.filter((c) => owners.owner(c) === undefined).length;
    if (unowned <= MAX_NEW_CLIENTS) return null;
    return {
      code: 'limit',
      reason: `expected at most ${MAX_NEW_CLIENTS} new client ids in one update, got ${unowned}`,
    };
  }

  private refuseCost(scratch: Y.Doc, { items }: UpdateSummary): Refused | null {
    const cost = mergeCost(scratch, this.options.policy.root, items, MAX_MERGE_STEPS);
    if (cost <= MAX_MERGE_STEPS) return null;
    return { code: 'limit', reason: 'the update builds on too many entries that were overwritten long ago' };
  }

  /** Everything up to the append is put in line in this call, so appends and application keep the order of the calls. */
  private keep(
    update: Uint8Array,
    by: { readonly account: string; readonly from: unknown; readonly clients: readonly number[] },
  ): Promise<number | Refused> {
    this.waiting.push(update);
    const claims = by.clients.filter((c) => this.options.owners.owner(c) === undefined);
    if (claims.length > 0) this.claim(claims, by.account);
    const { claimed, failures } = this;
    const kept = claimed.then(() => {
      // It may build on the one that failed.
      if (failures !== this.failures) throw new Error('an earlier change could not be stored');
      return this.options.append(update, by.account);
    });
    kept.catch(() => undefined);
    const changes = this.changes.values();
    this.last = this.last.then(() => this.settle({ kept, changes, update, from: by.from }));
    return this.last;
  }

  private claim(clients: readonly number[], account: string): void {
    const claimed = Promise.all([this.claimed, ...clients.map((c) => this.options.owners.claim(c, account))]);
    this.claimed = claimed;
    claimed.catch(() => {
      // A failed claim holds back all that came behind it, and nothing later.
      if (this.claimed === claimed) this.claimed = Promise.resolve();
    });
  }

  private async settle({ kept, changes, update, from }: OnItsWay): Promise<number | Refused> {
    try {
      const seq = await kept;
      this.drop(update);
      this.accepted = seq;
      Y.applyUpdate(this.live, update, { kind: 'remote' });
      this.options.applied(update, from, seq);
      this.options.wrote?.(seq, changes);
      return seq;
    } catch (error) {
      this.drop(update);
      this.destroy();
      this.failures += 1;
      this.options.lost?.();
      return { code: 'not-kept', reason: `the server could not store the change: ${String(error)}` };
    }
  }

  private drop(update: Uint8Array): void {
    const at = this.waiting.indexOf(update);
    if (at >= 0) this.waiting.splice(at, 1);
  }

  private tryOnScratch(scratch: Y.Doc, update: Uint8Array, account: string): Refused | null {
    this.changes = new Map();
    const refused = this.apply(scratch, update) ?? this.refuseByPolicy(account);
    if (refused) this.destroy();
    return refused;
  }

  private apply(scratch: Y.Doc, update: Uint8Array): Refused | null {
    try {
      Y.applyUpdate(scratch, update);
    } catch (error) {
      return { code: 'malformed', reason: `the update does not apply: ${String(error)}` };
    }
    if (scratch.store.pendingStructs || scratch.store.pendingDs)
      return { code: 'gap', reason: 'the update waits for changes that are not there' };
    return structsOf(scratch) > MAX_STRUCTS
      ? { code: 'limit', reason: `the document has reached its limit of ${MAX_STRUCTS} changes` }
      : null;
  }

  private refuseByPolicy(account: string): Refused | null {
    for (const change of this.changes.values()) {
      const why = this.options.policy.allow(change, account);
      if (why !== null) return { code: 'not-allowed', reason: why };
    }
    return null;
  }

  private current(): Y.Doc {
    this.scratch ??= this.rebuilt();
    return this.scratch;
  }

  private rebuilt(): Y.Doc {
    const doc = new Y.Doc({ gc: true });
    Y.applyUpdate(doc, Y.encodeStateAsUpdate(this.live));
    for (const update of this.waiting) Y.applyUpdate(doc, update);
    const map = doc.getMap<unknown>(this.options.policy.root);
    map.observe((event) => {
      for (const [key, change] of event.changes.keys)
        this.changes.set(key, { key, before: change.oldValue, after: map.get(key) });
    });
    return doc;
  }
}

const READER_WROTE: Refused = {
  code: 'not-allowed',
  reason: 'your roles in this project do not allow editing this document',
};

/** True when all it brings is there and all it deletes is deleted: a client that comes back sends every deletion it knows of. */
function changesNothing(doc: Y.Doc, { clients, deletions }: UpdateSummary): boolean {
  return clients.length === 0 && deletions.every((range) => isDeleted(doc, range));
}

function isDeleted(doc: Y.Doc, { client, from, to }: ClockRange): boolean {
  const structs = doc.store.clients.get(client);
  if (!structs) return false;
  for (let i = Y.findIndexSS(structs, from); i < structs.length; i++) {
    const struct = structs[i];
    if (!struct || struct.id.clock >= to) return true;
    if (!struct.deleted) return false;
  }
  return true;
}

function structsOf(doc: Y.Doc): number {
  let sum = 0;
  for (const structs of doc.store.clients.values()) sum += structs.length;
  return sum;
}
