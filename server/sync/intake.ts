import * as Y from 'yjs';
import { checkUpdate } from './updateGate.ts';

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
  /** Durable once resolved. */
  claim(client: number, account: string): Promise<void>;
}

export interface IntakeOptions {
  readonly policy: IntakePolicy;
  readonly owners: ClientOwners;
  /** Resolves with a sequence number once the update is on disk. */
  readonly append: (update: Uint8Array, account: string) => Promise<number>;
  /** Called after an update is in the live document, in sequence. */
  readonly applied: (update: Uint8Array, from: unknown, seq: number) => void;
}

/** Largest state of one document before it stops taking updates. */
const MAX_STATE_CLOCKS = 2_000_000;

/**
 * Takes updates into one document: bounded pre-check, authorship, apply to a scratch copy, policy on what it would write,
 * durable append, then the live document. The live document never holds anything that is not on disk, and nothing half-applied.
 */
export class Intake {
  readonly live: Y.Doc;
  private scratch: Y.Doc;
  private readonly options: IntakeOptions;
  private changes: Map<string, EntryChange> | null = null;
  private accepted = 0;

  constructor(live: Y.Doc, options: IntakeOptions) {
    this.live = live;
    this.options = options;
    this.scratch = this.copy();
  }

  /** Resolves with the sequence number, or says why not. Never rejects. */
  async take(update: Uint8Array, account: string, from: unknown): Promise<number | Refused> {
    const checked = checkUpdate(update, { root: this.options.policy.root, clockOf: (c) => this.clock(c) });
    if (!checked.ok) return { code: checked.kind, reason: checked.reason };
    if (checked.summary.empty) return this.accepted;
    const forged = checked.summary.clients.find((c) => (this.options.owners.owner(c) ?? account) !== account);
    if (forged !== undefined) return { code: 'forged', reason: `client id ${forged} belongs to another account` };
    const refused = this.tryOnScratch(update, account);
    if (refused) {
      this.scratch.destroy();
      this.scratch = this.rebuilt();
      return refused;
    }
    return this.keep(update, { account, from, clients: checked.summary.clients });
  }

  destroy(): void {
    this.scratch.destroy();
  }

  private readonly waiting: Uint8Array[] = [];

  private async keep(
    update: Uint8Array,
    by: { account: string; from: unknown; clients: readonly number[] },
  ): Promise<number | Refused> {
    this.waiting.push(update);
    try {
      const claims = by.clients.filter((c) => this.options.owners.owner(c) === undefined);
      const claimed = claims.map((c) => this.options.owners.claim(c, by.account));
      const seq = await this.options.append(update, by.account);
      await Promise.all(claimed);
      this.waiting.splice(this.waiting.indexOf(update), 1);
      Y.applyUpdate(this.live, update, { kind: 'remote' });
      this.accepted = seq;
      this.options.applied(update, by.from, seq);
      return seq;
    } catch (error) {
      this.waiting.splice(this.waiting.indexOf(update), 1);
      this.scratch.destroy();
      this.scratch = this.rebuilt();
      return { code: 'not-kept', reason: `the server could not store the change: ${String(error)}` };
    }
  }

  private clock(client: number): number {
    return Y.getState(this.scratch.store, client);
  }

  private tryOnScratch(update: Uint8Array, account: string): Refused | null {
    this.changes = new Map();
    try {
      Y.applyUpdate(this.scratch, update);
    } catch (error) {
      return { code: 'malformed', reason: `the update does not apply: ${String(error)}` };
    }
    if (this.scratch.store.pendingStructs || this.scratch.store.pendingDs) {
      return { code: 'gap', reason: 'the update waits for changes that are not there' };
    }
    if (totalClocks(this.scratch) > MAX_STATE_CLOCKS)
      return { code: 'limit', reason: 'the document has reached its size limit' };
    for (const change of this.changes.values()) {
      const why = this.options.policy.allow(change, account);
      if (why) return { code: 'not-allowed', reason: why };
    }
    return null;
  }

  /** Live plus what is on its way to disk. */
  private rebuilt(): Y.Doc {
    const doc = this.copy();
    for (const update of this.waiting) Y.applyUpdate(doc, update);
    return doc;
  }

  private copy(): Y.Doc {
    const doc = new Y.Doc({ gc: true });
    Y.applyUpdate(doc, Y.encodeStateAsUpdate(this.live));
    const map = doc.getMap<unknown>(this.options.policy.root);
    map.observe((event) => {
      for (const [key, change] of event.changes.keys) {
        this.changes?.set(key, { key, before: change.oldValue, after: map.get(key) });
      }
    });
    return doc;
  }
}

function totalClocks(doc: Y.Doc): number {
  let sum = 0;
  for (const structs of doc.store.clients.values()) sum += structs.length;
  return sum;
}
