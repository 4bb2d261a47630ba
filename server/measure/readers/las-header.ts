import { grouped, refuse } from './problem.ts';
import type { SinkOptions } from './sink.ts';
import { refuseTooMany } from './sink.ts';
import type { Source } from './source.ts';
import { headOf } from './source.ts';

/** Longest header of any version, bytes (LAS 1.4). */
const LONGEST = 375;
/** Shortest header by minor version, bytes. Source: LAS specifications 1.0 to 1.4 (memory). */
const HEADERS = [227, 227, 227, 235, 375] as const;
/** Least bytes of a record by point format. Source: LAS 1.4 specification (memory). */
const RECORDS = [20, 28, 26, 34, 57, 63, 30, 36, 38, 59, 67] as const;
/** Set in the format byte of a file whose points are compressed. */
const COMPRESSED = 0x80;

/** What the header of a LAS or LAZ file promises, checked for sense and against the size of the file. */
export interface LasHeader {
  readonly compressed: boolean;
  readonly minor: number;
  /** Point format, 0 to 10, and bytes of a record once unpacked. */
  readonly format: number;
  readonly stride: number;
  readonly count: number;
  /** First byte of the points. */
  readonly offset: number;
  /** x, y, z in file units = whole number * scale + shift. */
  readonly scale: readonly [number, number, number];
  readonly shift: readonly [number, number, number];
  /** Least and greatest x, y, z in file units as the header has them; null where it has none. */
  readonly box: { readonly least: readonly number[]; readonly greatest: readonly number[] } | null;
}

/** Whether a file is a LAS file with compressed points. */
export function isPackedLas(source: Source): boolean {
  const head = headOf(source, 105);
  return head.toString('latin1', 0, 4) === 'LASF' && ((head[104] ?? 0) & COMPRESSED) !== 0;
}

/** Reads and checks the header of a LAS or LAZ file. */
export function lasHeader(source: Source, options: SinkOptions): LasHeader {
  const head = headOf(source, LONGEST);
  const [major, minor] = [head[24] ?? 0, head[25] ?? 0];
  const shortest = HEADERS[minor];
  if (head.length < 227) refuse('truncated', `Expected a LAS header of at least 227 bytes, got ${head.length}.`);
  if (major !== 1 || shortest === undefined)
    refuse('unsupported', `Expected LAS version 1.0 to 1.4, got ${major}.${minor}.`);
  const size = head.readUInt16LE(94);
  if (size < shortest || head.length < shortest)
    refuse('bad-header', `Expected a LAS 1.${minor} header of at least ${shortest} bytes, it says ${size}.`);
  const packed = head[104] ?? 0;
  const format = packed & 0x3f;
  const least = RECORDS[format];
  if (least === undefined) refuse('unsupported', `Expected point format 0 to 10, got ${format}.`);
  const stride = head.readUInt16LE(105);
  if (stride < least)
    refuse('bad-header', `Expected records of at least ${least} bytes for point format ${format}, got ${stride}.`);
  const offset = head.readUInt32LE(96);
  if (offset < size || offset > source.size) {
    const range = `between the header (${size}) and the end of the file (${grouped(source.size)})`;
    refuse('bad-header', `Expected the points to begin ${range}, got ${grouped(offset)}.`);
  }
  const count = countOf(head, minor);
  if (count === 0) refuse('empty', 'Expected points, the LAS header says 0.');
  if (count > options.maxPoints) refuseTooMany(options.maxPoints, count);
  const compressed = (packed & COMPRESSED) !== 0;
  return { compressed, minor, format, stride, count, offset, ...placing(head), box: boxOf(head) };
}

/** From 1.4 on the count has 64 bits; the old place then holds 0 or the same. */
function countOf(head: Buffer, minor: number): number {
  const old = head.readUInt32LE(107);
  const long = minor >= 4 ? head.readBigUInt64LE(247) : 0n;
  if (long === 0n) return old;
  if (long > BigInt(Number.MAX_SAFE_INTEGER)) refuse('bad-header', `Expected a number of points, got ${long}.`);
  if (old !== 0 && BigInt(old) !== long)
    refuse(
      'bad-header',
      `Expected one number of points, the header says ${grouped(old)} and ${grouped(Number(long))}.`,
    );
  return Number(long);
}

/** Greatest and least stand in turn, for x, y and z. */
function boxOf(head: Buffer): LasHeader['box'] {
  const at = (first: number) => [0, 1, 2].map((axis) => head.readDoubleLE(first + 16 * axis));
  const [greatest, least] = [at(179), at(187)];
  return least.every((x, axis) => x <= (greatest[axis] ?? x)) && greatest.some((x, axis) => x !== least[axis])
    ? { least, greatest }
    : null;
}

function placing(head: Buffer): Pick<LasHeader, 'scale' | 'shift'> {
  const triple = (at: number) =>
    [head.readDoubleLE(at), head.readDoubleLE(at + 8), head.readDoubleLE(at + 16)] as const;
  const [scale, shift] = [triple(131), triple(155)];
  // Whole numbers go to 2^31: beyond this no coordinate of a bay could be meant.
  if (!scale.every((x) => Math.abs(x) > 1e-12 && Math.abs(x) < 1e9) || !shift.every((x) => Math.abs(x) < 1e15))
    refuse(
      'bad-header',
      `Expected finite scales other than 0 and finite offsets, got ${scale.join(', ')} and ${shift.join(', ')}.`,
    );
  return { scale, shift };
}
