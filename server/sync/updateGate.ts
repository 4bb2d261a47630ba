import { ByteReader, malformed, Refusal, type RefusalKind } from './byteReader.ts';
import type { ClockRef, Placed } from './mergeCost.ts';

/**
 * Bounded pre-check of a Yjs update (format version 1) before anything of Yjs sees it. Yjs trusts counts on the wire and
 * allocates by them, so one small hostile frame can stall or kill the process: here every count is held against the bytes
 * that are really there, clocks must join on to what the document has, and only the shapes our documents use get through:
 * values under keys of one root map, deletions, and collected garbage.
 */

/** Clocks `from` to before `to` of one client. */
export interface ClockRange {
  readonly client: number;
  readonly from: number;
  readonly to: number;
}

/** What an update brings, as far as authority needs to know. */
export interface UpdateSummary {
  /** Clients that gain clocks by this update. */
  readonly clients: readonly number[];
  readonly structs: number;
  /** Its items, in order per client. */
  readonly items: readonly Placed[];
  /** What it deletes, in order per client and not overlapping; may be deleted already. */
  readonly deletions: readonly ClockRange[];
}

export type GateResult =
  | { readonly ok: true; readonly summary: UpdateSummary }
  | { readonly ok: false; readonly reason: string; readonly kind: RefusalKind };

export interface GateOptions {
  /** Name of the only root type the document may hold. */
  readonly root: string;
  /** Next free clock of a client in the document, 0 when unknown. */
  readonly clockOf: (client: number) => number;
}

const LIMIT = {
  bytes: 256 * 1024,
  clock: 2 ** 31,
  length: 1_000_000,
  structs: 20_000,
  deletions: 20_000,
  depth: 4,
  key: 200,
} as const;

/** lib0's self-describing values, restricted to what a spec or markup value can be. */
function checkAny(bytes: ByteReader, depth: number): void {
  if (depth > LIMIT.depth) throw new Refusal('limit', `expected values nested at most ${LIMIT.depth} deep`);
  const tag = bytes.byte();
  switch (tag) {
    case 126:
    case 121:
    case 120:
      return;
    case 125:
      return bytes.signedSkip();
    case 124:
      return bytes.skip(4);
    case 123:
      return bytes.skip(8);
    case 119:
      return void bytes.skipText(LIMIT.bytes);
    case 118:
      return checkMembers(bytes, depth);
    case 117: {
      const members = bytes.count();
      for (let i = 0; i < members; i++) checkAny(bytes, depth + 1);
      return;
    }
    default:
      malformed(`value type ${tag} is not one our documents hold`);
  }
}

function checkMembers(bytes: ByteReader, depth: number): void {
  const members = bytes.count();
  for (let i = 0; i < members; i++) {
    const key = bytes.text(LIMIT.key);
    if (key === '__proto__' || key === 'constructor' || key === 'prototype') malformed(`the key ${key} is not allowed`);
    checkAny(bytes, depth + 1);
  }
}

class Checker {
  /** Clocks each client reaches by this update. */
  readonly ends = new Map<number, number>();
  readonly deletions: ClockRange[] = [];
  structs = 0;
  private length = 0;
  readonly items: Placed[] = [];
  private readonly references: ClockRef[] = [];
  /** Items of several values. Only runs of overwritten values are merged into one, so all of it must be deleted too. */
  private readonly runs: ClockRange[] = [];
  private readonly bytes: ByteReader;
  private readonly options: GateOptions;

  constructor(bytes: ByteReader, options: GateOptions) {
    this.bytes = bytes;
    this.options = options;
  }

  run(): void {
    const clients = this.bytes.count();
    for (let i = 0; i < clients; i++) this.client();
    const deleters = this.bytes.count();
    const seen = new Set<number>();
    for (let i = 0; i < deleters; i++) this.deletes(seen);
    if (this.bytes.left() > 0) malformed(`${this.bytes.left()} bytes follow after the end`);
    this.resolve();
    this.coverRuns();
  }

  private client(): void {
    const structs = this.bytes.count();
    if (structs === 0) malformed('a client brings nothing');
    const client = this.clientId();
    if (this.ends.has(client)) malformed(`client ${client} comes twice`);
    const from = this.bytes.uint();
    const known = this.options.clockOf(client);
    if (from > known)
      throw new Refusal('gap', `client ${client} starts at ${from}, the document has it up to ${known}`);
    let clock = from;
    for (let i = 0; i < structs; i++) clock = this.struct({ client, clock, known });
    if (clock > LIMIT.clock) throw new Refusal('limit', `expected clocks below ${LIMIT.clock}, got ${clock}`);
    this.ends.set(client, clock);
  }

  private clientId(): number {
    const client = this.bytes.uint();
    if (client >= 2 ** 32) malformed(`expected a client id below 2^32, got ${client}`);
    return client;
  }

  private struct(at: { readonly client: number; readonly clock: number; readonly known: number }): number {
    this.structs += 1;
    if (this.structs > LIMIT.structs)
      throw new Refusal('limit', `expected at most ${LIMIT.structs} changes in one update`);
    const info = this.bytes.byte();
    const kind = info & 31;
    const length = kind === 0 ? this.bytes.uint() : this.item(info, kind, at);
    if (length < 1) malformed('a struct has no length');
    this.length += length;
    if (this.length > LIMIT.length) throw new Refusal('limit', `expected at most ${LIMIT.length} clocks in one update`);
    const end = at.clock + length;
    // Yjs would take the unknown half as it says, not as the known half is: replicas that differ for ever.
    if (at.clock < at.known && end > at.known)
      throw new Refusal('gap', `a change of client ${at.client} is known in part, up to ${at.known}`);
    if (kind === 8 && length > 1) this.runs.push({ client: at.client, from: at.clock, to: end });
    return end;
  }

  private item(info: number, kind: number, at: ClockRef): number {
    const left = (info & 128) !== 0 ? this.reference(at) : null;
    const right = (info & 64) !== 0 ? this.reference(at) : null;
    let key: string | null = null;
    if (!left && !right) {
      if (this.bytes.uint() !== 1) malformed('nested types are not used in our documents');
      const root = this.bytes.text(LIMIT.key);
      if (root !== this.options.root) malformed(`expected the root "${this.options.root}", got "${root}"`);
      if ((info & 32) === 0) malformed('expected a key, a list entry came');
      key = this.bytes.text(LIMIT.key);
    }
    const length = this.content(kind);
    this.items.push({ client: at.client, clock: at.clock, length, left, right, key });
    return length;
  }

  private content(kind: number): number {
    if (kind === 1) return this.bytes.uint();
    if (kind !== 8) return malformed(`content type ${kind} is not one our documents hold`);
    const values = this.bytes.count();
    for (let i = 0; i < values; i++) checkAny(this.bytes, 0);
    return values;
  }

  private reference(at: ClockRef): ClockRef {
    const reference = { client: this.clientId(), clock: this.bytes.uint() };
    if (reference.client === at.client && reference.clock >= at.clock)
      malformed(`change ${at.client}:${at.clock} builds on its own future`);
    this.references.push(reference);
    return reference;
  }

  private deletes(seen: Set<number>): void {
    const client = this.clientId();
    if (seen.has(client)) malformed(`deletions of client ${client} come twice`);
    seen.add(client);
    const ranges = this.bytes.count();
    let last = 0;
    for (let i = 0; i < ranges; i++) {
      const from = this.bytes.uint();
      const length = this.bytes.uint();
      // Every writer sorts and merges them; overlapping ones would make Yjs walk the same changes again and again.
      if (from < last || length < 1) malformed(`expected deletions in order from ${last}, got ${length} at ${from}`);
      last = from + length;
      this.deletions.push({ client, from, to: last });
    }
    if (this.deletions.length > LIMIT.deletions)
      throw new Refusal('limit', `expected at most ${LIMIT.deletions} deletions in one update`);
  }

  /** Everything pointed at must exist once this update is in: nothing may wait for a later one. */
  private resolve(): void {
    const end = (client: number): number => Math.max(this.options.clockOf(client), this.ends.get(client) ?? 0);
    for (const r of this.references) {
      if (r.clock >= end(r.client))
        throw new Refusal('gap', `it builds on change ${r.client}:${r.clock}, which is not there`);
    }
    for (const d of this.deletions) {
      if (d.to > end(d.client))
        throw new Refusal('gap', `it deletes ${d.client}:${d.from}..${d.to}, which is not all there`);
    }
  }

  private coverRuns(): void {
    const first = new Map<number, number>();
    for (const [i, d] of this.deletions.entries()) if (!first.has(d.client)) first.set(d.client, i);
    for (const run of this.runs) {
      // Runs and deletions of a client both come in the order of their clocks: one walk over each.
      let i = first.get(run.client) ?? this.deletions.length;
      while (this.deletions[i]?.client === run.client && (this.deletions[i]?.to ?? 0) <= run.from) i += 1;
      first.set(run.client, i);
      const d = this.deletions[i];
      if (d?.client !== run.client || d.from > run.from || d.to < run.to)
        malformed(`change ${run.client}:${run.from} holds several values under one key`);
    }
  }
}

/** Holds an update against the bounds. Never throws; time and memory are proportional to its bytes. */
export function checkUpdate(update: Uint8Array, options: GateOptions): GateResult {
  if (update.length > LIMIT.bytes) {
    return { ok: false, kind: 'limit', reason: `expected at most ${LIMIT.bytes} bytes, got ${update.length}` };
  }
  const checker = new Checker(new ByteReader(update), options);
  try {
    checker.run();
  } catch (error) {
    if (error instanceof Refusal) return { ok: false, kind: error.kind, reason: error.message };
    throw error;
  }
  const clients = [...checker.ends].filter(([client, end]) => end > options.clockOf(client)).map(([client]) => client);
  const { structs, items, deletions } = checker;
  return { ok: true, summary: { clients, structs, items, deletions } };
}
