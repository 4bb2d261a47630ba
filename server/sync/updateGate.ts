/**
 * Bounded pre-check of a Yjs update (format version 1) before anything of Yjs sees it. Yjs trusts counts on the wire and
 * allocates by them, so one small hostile frame can stall or kill the process: here every count is held against the bytes
 * that are really there, clocks must join on to what the document has, and only the shapes our documents use get through:
 * values under keys of one root map, deletions, and collected garbage.
 */

/** What an update brings, as far as authority needs to know. */
export interface UpdateSummary {
  /** Clients that gain clocks by this update. */
  readonly clients: readonly number[];
  readonly structs: number;
  /** True when the update changes nothing. */
  readonly empty: boolean;
}

export type GateResult =
  | { readonly ok: true; readonly summary: UpdateSummary }
  | { readonly ok: false; readonly reason: string; readonly kind: 'malformed' | 'gap' | 'limit' };

export interface GateOptions {
  /** Name of the only root type the document may hold. */
  readonly root: string;
  /** Next free clock of a client in the document, 0 when unknown. */
  readonly clockOf: (client: number) => number;
}

const LIMIT = { bytes: 256 * 1024, clock: 2 ** 31, length: 1_000_000, depth: 4, key: 200 } as const;

class Refusal extends Error {
  readonly kind: 'malformed' | 'gap' | 'limit';
  constructor(kind: 'malformed' | 'gap' | 'limit', message: string) {
    super(message);
    this.kind = kind;
  }
}

const malformed = (message: string): never => {
  throw new Refusal('malformed', message);
};

/** Reads a byte string; every read checks that the bytes are there. */
class Bytes {
  private readonly data: Uint8Array;
  private pos = 0;

  constructor(data: Uint8Array) {
    this.data = data;
  }

  left(): number {
    return this.data.length - this.pos;
  }

  byte(): number {
    const value = this.data[this.pos];
    if (value === undefined) return malformed('expected more bytes, the update ends');
    this.pos += 1;
    return value;
  }

  skip(count: number): void {
    if (count > this.left()) malformed(`expected ${count} more bytes, ${this.left()} are there`);
    this.pos += count;
  }

  uint(): number {
    let value = 0;
    let scale = 1;
    for (let i = 0; i < 8; i++) {
      const b = this.byte();
      value += (b & 127) * scale;
      if (b < 128) return value;
      scale *= 128;
    }
    return malformed('a number is longer than 8 bytes');
  }

  /** A count of things that take at least one byte each. */
  count(): number {
    const n = this.uint();
    if (n > this.left()) malformed(`a count says ${n}, only ${this.left()} bytes follow`);
    return n;
  }

  text(max: number): string {
    const length = this.uint();
    if (length > this.left()) malformed(`a text says ${length} bytes, only ${this.left()} follow`);
    if (length > max) throw new Refusal('limit', `expected at most ${max} bytes of text, got ${length}`);
    const start = this.pos;
    this.pos += length;
    return Buffer.from(this.data.buffer, this.data.byteOffset + start, length).toString('utf8');
  }

  signedSkip(): void {
    let b = this.byte();
    for (let i = 0; b > 127; i++) {
      if (i > 7) malformed('a number is longer than 8 bytes');
      b = this.byte();
    }
  }
}

interface Range {
  readonly client: number;
  readonly from: number;
  readonly to: number;
}
interface Reference {
  readonly client: number;
  readonly clock: number;
}

/** lib0's self-describing values, restricted to what a spec or markup value can be. */
function checkAny(bytes: Bytes, depth: number): void {
  if (depth > LIMIT.depth) throw new Refusal('limit', `expected values nested at most ${LIMIT.depth} deep`);
  const tag = bytes.byte();
  switch (tag) {
    case 126:
    case 121:
    case 120:
      return;
    case 125:
      bytes.signedSkip();
      return;
    case 124:
      bytes.skip(4);
      return;
    case 123:
      bytes.skip(8);
      return;
    case 119:
      bytes.text(LIMIT.bytes);
      return;
    case 118: {
      const members = bytes.count();
      for (let i = 0; i < members; i++) {
        const key = bytes.text(LIMIT.key);
        if (key === '__proto__' || key === 'constructor' || key === 'prototype')
          malformed(`the key ${key} is not allowed`);
        checkAny(bytes, depth + 1);
      }
      return;
    }
    case 117: {
      const members = bytes.count();
      for (let i = 0; i < members; i++) checkAny(bytes, depth + 1);
      return;
    }
    default:
      malformed(`value type ${tag} is not one our documents hold`);
  }
}

class Checker {
  readonly ranges: Range[] = [];
  readonly references: Reference[] = [];
  readonly deletions: Range[] = [];
  structs = 0;
  private length = 0;
  private readonly bytes: Bytes;
  private readonly options: GateOptions;

  constructor(bytes: Bytes, options: GateOptions) {
    this.bytes = bytes;
    this.options = options;
  }

  run(): void {
    const clients = this.bytes.count();
    for (let i = 0; i < clients; i++) this.client();
    const deleters = this.bytes.count();
    for (let i = 0; i < deleters; i++) this.deletes();
    if (this.bytes.left() > 0) malformed(`${this.bytes.left()} bytes follow after the end`);
    this.resolve();
  }

  private client(): void {
    const structs = this.bytes.count();
    const client = this.clientId();
    const from = this.bytes.uint();
    const known = this.options.clockOf(client);
    if (from > known)
      throw new Refusal('gap', `client ${client} starts at ${from}, the document has it up to ${known}`);
    if (this.ranges.some((r) => r.client === client)) malformed(`client ${client} comes twice`);
    let clock = from;
    for (let i = 0; i < structs; i++) clock += this.struct();
    if (clock > LIMIT.clock) throw new Refusal('limit', `expected clocks below ${LIMIT.clock}, got ${clock}`);
    this.ranges.push({ client, from, to: clock });
  }

  private clientId(): number {
    const client = this.bytes.uint();
    if (client >= 2 ** 32) malformed(`expected a client id below 2^32, got ${client}`);
    return client;
  }

  private struct(): number {
    this.structs += 1;
    const info = this.bytes.byte();
    const kind = info & 31;
    const length = kind === 0 ? this.bytes.uint() : this.item(info, kind);
    if (length < 1) malformed('a struct has no length');
    this.length += length;
    if (this.length > LIMIT.length)
      throw new Refusal('limit', `expected at most ${LIMIT.length} changes in one update`);
    return length;
  }

  private item(info: number, kind: number): number {
    const hasLeft = (info & 128) !== 0;
    const hasRight = (info & 64) !== 0;
    if (hasLeft) this.reference();
    if (hasRight) this.reference();
    if (!hasLeft && !hasRight) {
      if (this.bytes.uint() !== 1) malformed('nested types are not used in our documents');
      const root = this.bytes.text(LIMIT.key);
      if (root !== this.options.root) malformed(`expected the root "${this.options.root}", got "${root}"`);
      if ((info & 32) === 0) malformed('expected a key, a list entry came');
      this.bytes.text(LIMIT.key);
    }
    return this.content(kind);
  }

  private content(kind: number): number {
    if (kind === 1) return this.bytes.uint();
    if (kind !== 8) return malformed(`content type ${kind} is not one our documents hold`);
    const values = this.bytes.count();
    for (let i = 0; i < values; i++) checkAny(this.bytes, 0);
    return values;
  }

  private reference(): void {
    this.references.push({ client: this.clientId(), clock: this.bytes.uint() });
  }

  private deletes(): void {
    const client = this.clientId();
    const ranges = this.bytes.count();
    for (let i = 0; i < ranges; i++) {
      const from = this.bytes.uint();
      this.deletions.push({ client, from, to: from + this.bytes.uint() });
    }
  }

  /** Everything pointed at must exist once this update is in: nothing may wait for a later one. */
  private resolve(): void {
    const ends = new Map(this.ranges.map((r) => [r.client, r.to]));
    const end = (client: number): number => Math.max(this.options.clockOf(client), ends.get(client) ?? 0);
    for (const r of this.references) {
      if (r.clock >= end(r.client))
        throw new Refusal('gap', `it builds on change ${r.client}:${r.clock}, which is not there`);
    }
    for (const d of this.deletions) {
      if (d.to > end(d.client))
        throw new Refusal('gap', `it deletes ${d.client}:${d.from}..${d.to}, which is not all there`);
    }
  }
}

/** Holds an update against the bounds. Never throws; time and memory are proportional to its bytes. */
export function checkUpdate(update: Uint8Array, options: GateOptions): GateResult {
  if (update.length > LIMIT.bytes) {
    return { ok: false, kind: 'limit', reason: `expected at most ${LIMIT.bytes} bytes, got ${update.length}` };
  }
  const checker = new Checker(new Bytes(update), options);
  try {
    checker.run();
  } catch (error) {
    if (error instanceof Refusal) return { ok: false, kind: error.kind, reason: error.message };
    throw error;
  }
  const clients = checker.ranges.filter((r) => r.to > options.clockOf(r.client)).map((r) => r.client);
  const empty = checker.ranges.length === 0 && checker.deletions.length === 0;
  return { ok: true, summary: { clients, structs: checker.structs, empty } };
}
