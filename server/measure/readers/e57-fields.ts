import type { XmlElement } from './e57-xml.ts';
import { refuse } from './problem.ts';

/** A member of each record of an E57 scan. */
export interface E57Field {
  readonly name: string;
  readonly type: 'single' | 'double' | 'packed';
  /** Bits of one value in the stream; 0 for a member that is the same in every record. */
  readonly bits: number;
  /** Value = (whole number + least) * scale + offset; for packed numbers. */
  readonly least: number;
  readonly scale: number;
  readonly offset: number;
}

const INT64 = ['-9223372036854775808', '9223372036854775807'] as const;

/** Reads what a record is made of. */
export function e57Field(element: XmlElement): E57Field {
  const { name, attributes } = element;
  const type = attributes.get('type');
  if (type === 'Float') {
    const single = attributes.get('precision') === 'single';
    return { name, type: single ? 'single' : 'double', bits: single ? 32 : 64, least: 0, scale: 1, offset: 0 };
  }
  if (type !== 'Integer' && type !== 'ScaledInteger')
    return refuse(
      'unsupported',
      `Expected numbers in E57 records, "${name.slice(0, 40)}" is ${String(type).slice(0, 40)}.`,
    );
  const least = integer(attributes.get('minimum') ?? INT64[0]);
  const range = integer(attributes.get('maximum') ?? INT64[1]) - least;
  if (range < 0n || range >= 1n << 64n)
    refuse('bad-header', `Expected a minimum not above the maximum of "${name.slice(0, 40)}", both of 64 bits.`);
  const scaled = type === 'ScaledInteger';
  const scale = scaled ? Number(attributes.get('scale') ?? 1) : 1;
  const offset = scaled ? Number(attributes.get('offset') ?? 0) : 0;
  if (!Number.isFinite(scale) || scale === 0 || !Number.isFinite(offset))
    refuse('bad-header', `Expected a finite scale and offset of "${name.slice(0, 40)}", got ${scale} and ${offset}.`);
  const bits = range === 0n ? 0 : range.toString(2).length;
  return { name, type: 'packed', bits, least: Number(least), scale, offset };
}

function integer(text: string): bigint {
  if (!/^\s*[+-]?\d{1,20}\s*$/.test(text)) refuse('bad-header', `Expected a whole number, got "${text.slice(0, 40)}".`);
  return BigInt(text.trim().replace('+', ''));
}

/** Values of one field as they come out of the packets, waiting for those of the other fields. */
export class FieldStream {
  readonly field: E57Field;
  private values = new Float64Array(8192);
  private filled = 0;
  /** Bytes of a value that the next packet goes on with, and the bits of the first of them that are used up. */
  private rest: Buffer = Buffer.alloc(0);
  private bit = 0;
  /** Values taken out of the packets so far. */
  private total = 0;

  constructor(field: E57Field) {
    this.field = field;
  }

  /** Number of values waiting; for a field that never changes, as many as wanted. */
  get waiting(): number {
    return this.field.bits === 0 ? Number.POSITIVE_INFINITY : this.filled;
  }

  /** Takes in the bytes of one packet, as many values of them as a scan of `count` records has. */
  push(bytes: Buffer, count: number): void {
    const { bits } = this.field;
    if (bits === 0 || bytes.length === 0) return;
    const all = this.rest.length > 0 ? Buffer.concat([this.rest, bytes]) : bytes;
    const whole = Math.floor((8 * all.length - this.bit) / bits);
    const take = Math.min(whole, count - this.total);
    this.room(take);
    if (this.field.type === 'packed') this.unpack(all, take);
    else this.floats(all, take);
    this.filled += take;
    this.total += take;
    const used = this.bit + take * bits;
    this.rest = Buffer.from(all.subarray(used >> 3));
    this.bit = used & 7;
  }

  /** The waiting value of that number; the constant of a field that never changes. */
  at(i: number): number {
    const { bits, least, scale, offset } = this.field;
    return bits === 0 ? least * scale + offset : (this.values[i] ?? Number.NaN);
  }

  /** Drops the first values. */
  drop(n: number): void {
    if (this.field.bits === 0) return;
    this.values.copyWithin(0, n, this.filled);
    this.filled -= n;
  }

  private room(more: number): void {
    if (this.filled + more <= this.values.length) return;
    const bigger = new Float64Array(Math.max(2 * this.values.length, this.filled + more));
    bigger.set(this.values.subarray(0, this.filled));
    this.values = bigger;
  }

  private floats(all: Buffer, take: number): void {
    const { values, filled } = this;
    if (this.field.type === 'double') for (let i = 0; i < take; i++) values[filled + i] = all.readDoubleLE(8 * i);
    else for (let i = 0; i < take; i++) values[filled + i] = all.readFloatLE(4 * i);
  }

  private unpack(all: Buffer, take: number): void {
    const { values, filled } = this;
    const { bits, least, scale, offset } = this.field;
    let at = this.bit;
    for (let i = 0; i < take; i++, at += bits) values[filled + i] = (wholeAt(all, at, bits) + least) * scale + offset;
  }
}

/** A whole number of `bits` bits from a bit on, least bit first. Beyond 53 bits it is rounded to a double. */
function wholeAt(bytes: Buffer, bit: number, bits: number): number {
  const byte = bit >> 3;
  const shift = bit & 7;
  if (bits <= 32 && byte + 5 <= bytes.length) {
    const low = bytes.readUInt32LE(byte) >>> shift;
    const high = shift === 0 ? 0 : (bytes[byte + 4] ?? 0) << (32 - shift);
    const value = (low | high) >>> 0;
    return bits === 32 ? value : value & (2 ** bits - 1);
  }
  let value = 0;
  for (let done = 0; done < bits; ) {
    const from = (bit + done) & 7;
    const some = Math.min(8 - from, bits - done);
    value += (((bytes[(bit + done) >> 3] ?? 0) >> from) & ((1 << some) - 1)) * 2 ** done;
    done += some;
  }
  return value;
}
