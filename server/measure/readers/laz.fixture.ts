import { writeLasHeader } from './las.fixture.ts';

/*
 * Writes LAZ files of point format 0 whose records differ in x, y and z alone: enough to have real packed chunks to read, since no LAZ
 * writer is to be had as a package. The reading is not ours, so the two check one another. Source: the LAZ specification (memory).
 */

const LEAST_LENGTH = 0x01000000;

class BitModel {
  zeros = 1;
  private total = 2;
  probability = 1 << 12;
  private cycle = 4;
  private left = 4;

  count(): void {
    if (--this.left > 0) return;
    this.total += this.cycle;
    if (this.total > 1 << 13) {
      this.total = (this.total + 1) >> 1;
      this.zeros = (this.zeros + 1) >> 1;
      if (this.zeros === this.total) this.total++;
    }
    this.probability = Math.floor((this.zeros * Math.floor(0x80000000 / this.total)) / 2 ** 18);
    this.cycle = Math.min(64, (5 * this.cycle) >> 2);
    this.left = this.cycle;
  }
}

class SymbolModel {
  readonly counts: number[];
  readonly starts: number[] = [];
  private total = 0;
  private cycle: number;
  private left: number;

  constructor(symbols: number) {
    this.counts = Array(symbols).fill(1);
    this.cycle = symbols;
    this.left = 0;
    this.update();
    this.cycle = (symbols + 6) >> 1;
    this.left = this.cycle;
  }

  count(symbol: number): void {
    this.counts[symbol] = (this.counts[symbol] ?? 0) + 1;
    if (--this.left === 0) this.update();
  }

  private update(): void {
    const { counts } = this;
    this.total += this.cycle;
    if (this.total > 1 << 15) {
      this.total = 0;
      for (const [i, n] of counts.entries()) {
        counts[i] = (n + 1) >> 1;
        this.total += counts[i] ?? 0;
      }
    }
    const scale = Math.floor(0x80000000 / this.total);
    let sum = 0;
    for (const [i, n] of counts.entries()) {
      this.starts[i] = Math.floor((scale * sum) / 2 ** 16);
      sum += n;
    }
    this.cycle = Math.min((counts.length + 6) << 3, (5 * this.cycle) >> 2);
    this.left = this.cycle;
  }
}

/** An arithmetic coder that writes bytes. */
class Coder {
  private readonly bytes: number[] = [];
  private base = 0;
  private length = 0xffffffff;

  bit(model: BitModel, bit: number): void {
    const x = model.probability * (this.length >>> 13);
    if (bit === 0) {
      this.length = x;
      model.zeros++;
    } else {
      this.add(x);
      this.length -= x;
    }
    this.shrink();
    model.count();
  }

  symbol(model: SymbolModel, symbol: number): void {
    const { starts } = model;
    const unit = this.length >>> 15;
    const x = (starts[symbol] ?? 0) * unit;
    this.add(x);
    this.length = symbol === starts.length - 1 ? this.length - x : (starts[symbol + 1] ?? 0) * unit - x;
    this.shrink();
    model.count(symbol);
  }

  raw(bits: number, value: number): void {
    if (bits > 19) {
      this.raw(16, value & 0xffff);
      this.raw(bits - 16, value >>> 16);
      return;
    }
    this.length = this.length >>> bits;
    this.add(value * this.length);
    this.shrink();
  }

  done(): Buffer {
    const more = this.length > 2 * LEAST_LENGTH;
    this.add(more ? LEAST_LENGTH : LEAST_LENGTH / 2);
    this.length = more ? LEAST_LENGTH / 2 : LEAST_LENGTH / 512;
    this.shrink();
    return Buffer.from([...this.bytes, 0, 0, ...(more ? [0] : [])]);
  }

  private add(x: number): void {
    this.base += x;
    if (this.base <= 0xffffffff) return;
    this.base -= 2 ** 32;
    let i = this.bytes.length - 1;
    for (; this.bytes[i] === 255; i--) this.bytes[i] = 0;
    this.bytes[i] = (this.bytes[i] ?? 0) + 1;
  }

  private shrink(): void {
    while (this.length < LEAST_LENGTH) {
      this.bytes.push(this.base >>> 24);
      this.base = (this.base << 8) >>> 0;
      this.length = (this.length * 256) % 2 ** 32;
    }
  }
}

/** Codes whole numbers of 32 bits by how far they are from a guess. */
class Corrector {
  /** Bits that the last correction needed. */
  k = 0;
  private readonly lengths: SymbolModel[];
  private readonly zero = new BitModel();
  private readonly high: SymbolModel[];
  private readonly coder: Coder;

  constructor(coder: Coder, contexts: number) {
    this.coder = coder;
    this.lengths = Array.from({ length: contexts }, () => new SymbolModel(33));
    this.high = Array.from({ length: 33 }, (_, i) => new SymbolModel(1 << Math.min(i, 8)));
  }

  put(guess: number, real: number, context: number): void {
    let c = (real - guess) | 0;
    this.k = 32 - Math.clz32(c <= 0 ? -c : c - 1);
    const { k, coder } = this;
    const [lengths, high] = [this.lengths[context], this.high[k]];
    if (!lengths || !high) throw new Error('no such context');
    coder.symbol(lengths, k);
    if (k === 0) {
      coder.bit(this.zero, c);
      return;
    }
    if (k === 32) return;
    c = c < 0 ? c + (2 ** k - 1) : c - 1;
    if (k <= 8) coder.symbol(high, c);
    else {
      coder.symbol(high, c >> (k - 8));
      coder.raw(k - 8, c & (2 ** (k - 8) - 1));
    }
  }
}

/** Middle of the last five, kept as the format keeps it. */
class Median {
  private v = [0, 0, 0, 0, 0];
  private high = true;

  get(): number {
    return this.v[2] ?? 0;
  }

  add(x: number): void {
    const [a = 0, b = 0, c = 0, d = 0, e = 0] = this.v;
    if (this.high) {
      if (x < c) this.v = x < a ? [x, a, b, c, d] : x < b ? [a, x, b, c, d] : [a, b, x, c, d];
      else {
        this.v = x < d ? [a, b, c, x, d] : [a, b, c, d, x];
        this.high = false;
      }
    } else if (c < x) this.v = e < x ? [b, c, d, e, x] : d < x ? [b, c, d, x, e] : [b, c, x, d, e];
    else {
      this.v = b < x ? [b, x, c, d, e] : [x, b, c, d, e];
      this.high = true;
    }
  }
}

const even = (k: number): number => k & ~1;

function chunkOf(points: readonly (readonly number[])[]): Buffer {
  const [first = [0, 0, 0], ...rest] = points;
  const raw = Buffer.alloc(20);
  for (let k = 0; k < 3; k++) raw.writeInt32LE(first[k] ?? 0, 4 * k);
  // The only return of one.
  raw.writeUInt8(9, 14);
  const coder = new Coder();
  const changed = new SymbolModel(64);
  const [dx, dy, z] = [new Corrector(coder, 2), new Corrector(coder, 22), new Corrector(coder, 20)];
  const [mx, my] = [new Median(), new Median()];
  let [lastX = 0, lastY = 0] = first;
  let height = 0;
  for (const [x = 0, y = 0, h = 0] of rest) {
    coder.symbol(changed, 0);
    dx.put(mx.get(), x - lastX, 1);
    mx.add(x - lastX);
    dy.put(my.get(), y - lastY, 1 + (dx.k < 20 ? even(dx.k) : 20));
    my.add(y - lastY);
    const k = (dx.k + dy.k) >> 1;
    z.put(height, h, 1 + (k < 18 ? even(k) : 18));
    [lastX, lastY, height] = [x, y, h];
  }
  return Buffer.concat([raw, coder.done()]);
}

/** A LAZ file, version 1.2, of xyz triples in file units. */
export function lazFile(
  points: readonly number[],
  shape: { scale?: number; chunk?: number; claim?: number } = {},
): Buffer {
  const { scale = 0.0001, chunk = 50_000, claim = points.length / 3 } = shape;
  const whole = Array.from({ length: points.length / 3 }, (_, i) =>
    points.slice(3 * i, 3 * i + 3).map((x) => Math.round(x / scale)),
  );
  const chunks: Buffer[] = [];
  for (let i = 0; i < whole.length; i += chunk) chunks.push(chunkOf(whole.slice(i, i + chunk)));
  const head = Buffer.alloc(227);
  const record = vlr(chunk);
  const offset = head.length + record.length;
  const size = { minor: 2, format: 0x80, stride: 20, scale, shift: [0, 0, 0], size: 227 } as const;
  writeLasHeader(head, { ...size, offset, count: claim, points });
  head.writeUInt32LE(1, 100);
  const table = Buffer.alloc(8);
  table.writeBigInt64LE(BigInt(offset + 8 + chunks.reduce((n, one) => n + one.length, 0)));
  return Buffer.concat([head, record, table, ...chunks, tableOf(chunks)]);
}

function vlr(chunk: number): Buffer {
  const data = Buffer.alloc(40);
  data.writeUInt16LE(2, 0);
  data.writeUInt8(2, 4);
  data.writeUInt8(2, 5);
  data.writeUInt32LE(chunk, 12);
  data.writeBigInt64LE(-1n, 16);
  data.writeBigInt64LE(-1n, 24);
  data.writeUInt16LE(1, 32);
  for (const [i, value] of [6, 20, 2].entries()) data.writeUInt16LE(value, 34 + 2 * i);
  const head = Buffer.alloc(54);
  head.write('laszip encoded', 2, 'latin1');
  head.writeUInt16LE(22204, 18);
  head.writeUInt16LE(data.length, 20);
  return Buffer.concat([head, data]);
}

function tableOf(chunks: readonly Buffer[]): Buffer {
  const head = Buffer.alloc(8);
  head.writeUInt32LE(chunks.length, 4);
  const coder = new Coder();
  const sizes = new Corrector(coder, 2);
  for (const [i, one] of chunks.entries()) sizes.put(chunks[i - 1]?.length ?? 0, one.length, 1);
  return Buffer.concat([head, coder.done()]);
}
