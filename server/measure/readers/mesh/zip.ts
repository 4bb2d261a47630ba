import { crc32, inflateRawSync } from 'node:zlib';
import { Inflate } from 'fflate';
import { grouped, refuse } from '../problem.ts';
import type { Source } from '../source.ts';

/** A file in a ZIP archive, as its directory says. */
export interface ZipEntry {
  readonly name: string;
  readonly packed: number;
  readonly size: number;
  readonly method: number;
  readonly crc: number;
  /** Where its local header begins. */
  readonly at: number;
}

/** Own limits: a model of five million triangles is 0.5 GB of text and packs ten to one; nothing honest packs two hundred to one. */
export const ZIP_LIMITS = { entries: 4096, bytes: 2 * 1024 ** 3, ratio: 200 } as const;

const [END, DIRECTORY, LOCAL] = [0x06054b50, 0x02014b50, 0x04034b50];
const END_BYTES = 22;
const DIRECTORY_MOST = 1 << 24;
const STORED = 0;
const DEFLATED = 8;
/** Packed bytes unpacked at a time: at the most that deflate can grow (1032 to 1) that gives 16 MB. */
const STEP = 1 << 14;

/** Reads the directory of a ZIP archive. Source: PKWARE APPNOTE, records of end, directory and file (memory). */
export function zipEntries(source: Source): readonly ZipEntry[] {
  const tail = Buffer.alloc(Math.min(source.size, END_BYTES + 0xffff));
  source.read(tail, source.size - tail.length);
  let end = tail.length - END_BYTES;
  while (end >= 0 && tail.readUInt32LE(end) !== END) end--;
  if (end < 0) refuse('truncated', 'Expected a ZIP directory at the end of the file, found none. Upload it again.');
  const [count, bytes, at] = [tail.readUInt16LE(end + 10), tail.readUInt32LE(end + 12), tail.readUInt32LE(end + 16)];
  if (count === 0xffff || at === 0xffffffff) refuse('unsupported', 'Expected a ZIP archive below 4 GB, got ZIP64.');
  if (count > ZIP_LIMITS.entries || bytes > DIRECTORY_MOST) {
    refuse('too-large', `Expected at most ${grouped(ZIP_LIMITS.entries)} files in the archive, got ${grouped(count)}.`);
  }
  const directory = Buffer.alloc(bytes);
  if (source.read(directory, at) < bytes) badDirectory();
  const entries: ZipEntry[] = [];
  for (let o = 0; entries.length < count; ) {
    if (o + 46 > bytes || directory.readUInt32LE(o) !== DIRECTORY) badDirectory();
    const entry = entryAt(directory, o);
    if (directory.readUInt16LE(o + 8) & 1) refuse('unsupported', 'Expected an open archive, got an encrypted one.');
    entries.push(entry);
    o += 46 + directory.readUInt16LE(o + 28) + directory.readUInt16LE(o + 30) + directory.readUInt16LE(o + 32);
  }
  return entries;
}

const badDirectory = (): never =>
  refuse('malformed', 'Expected a whole ZIP directory, got a broken one. Upload the file again.');

const entryAt = (directory: Buffer, o: number): ZipEntry => ({
  name: directory.toString('utf8', o + 46, o + 46 + directory.readUInt16LE(o + 28)),
  method: directory.readUInt16LE(o + 10),
  crc: directory.readUInt32LE(o + 16),
  packed: directory.readUInt32LE(o + 20),
  size: directory.readUInt32LE(o + 24),
  at: directory.readUInt32LE(o + 42),
});

/** Hands over the content of an entry piece by piece, and refuses one that is larger than it says, grows too much or is damaged. */
export function unpack(source: Source, entry: ZipEntry, take: (piece: Uint8Array) => void): void {
  const from = dataStart(source, entry);
  if (entry.method !== STORED && entry.method !== DEFLATED) {
    refuse('unsupported', `Expected stored or deflated files in the archive, "${shown(entry)}" is neither.`);
  }
  if (entry.size > ZIP_LIMITS.bytes || entry.size > ZIP_LIMITS.ratio * Math.max(entry.packed, 4096)) {
    refuseGrowth(entry, entry.size);
  }
  const state = { bytes: 0, crc: 0 };
  const see = (piece: Uint8Array): void => {
    state.bytes += piece.length;
    if (state.bytes > entry.size) refuseGrowth(entry, state.bytes);
    state.crc = crc32(piece, state.crc);
    take(piece);
  };
  if (entry.method === STORED) eachPiece(source, { from, bytes: entry.packed }, see);
  else if (entry.size <= AT_ONCE && entry.packed <= AT_ONCE) inflateAtOnce(source, from, entry, see);
  else inflate(source, { from, bytes: entry.packed, entry }, see);
  if (state.bytes !== entry.size || state.crc !== entry.crc) {
    const came = `${grouped(state.bytes)} bytes that ${state.crc === entry.crc ? 'fit' : 'do not fit'} its check sum`;
    refuse('malformed', `Expected ${grouped(entry.size)} bytes in "${shown(entry)}" of the archive, got ${came}.`);
  }
}

const shown = ({ name }: ZipEntry): string => name.slice(0, 60);

function refuseGrowth(entry: ZipEntry, bytes: number): never {
  const limit = `at most ${ZIP_LIMITS.ratio} times its packed size and ${grouped(ZIP_LIMITS.bytes)} bytes`;
  return refuse(
    'too-large',
    `Expected "${shown(entry)}" to unpack to ${limit}, got ${grouped(bytes)} bytes out of ${grouped(entry.packed)}.`,
  );
}

function dataStart(source: Source, entry: ZipEntry): number {
  const head = Buffer.alloc(30);
  if (source.read(head, entry.at) < 30 || head.readUInt32LE(0) !== LOCAL) badDirectory();
  const from = entry.at + 30 + head.readUInt16LE(26) + head.readUInt16LE(28);
  if (from + entry.packed > source.size) {
    refuse('truncated', `Expected ${grouped(entry.packed)} bytes of "${shown(entry)}", the archive ends before that.`);
  }
  return from;
}

type Span = { readonly from: number; readonly bytes: number };

function eachPiece(source: Source, { from, bytes }: Span, see: (piece: Uint8Array, last: boolean) => void): void {
  for (let done = 0; done < bytes; ) {
    const piece = Buffer.alloc(Math.min(STEP, bytes - done));
    source.read(piece, from + done);
    done += piece.length;
    see(piece, done >= bytes);
  }
}

/** Up to so many bytes a file is unpacked in one go, which takes a third of the time (own: what a thread can spare for a moment). */
const AT_ONCE = 32 * 1024 ** 2;
const PIECE = 1 << 18;

/** The size the archive states bounds what is unpacked, so a bomb costs no more than that. */
function inflateAtOnce(source: Source, from: number, entry: ZipEntry, see: (piece: Uint8Array) => void): void {
  const packed = Buffer.alloc(entry.packed);
  source.read(packed, from);
  let bytes: Uint8Array;
  try {
    bytes = inflateRawSync(packed, { maxOutputLength: Math.max(1, entry.size) });
  } catch (error) {
    if (error instanceof RangeError) refuseGrowth(entry, entry.size + 1);
    refuse('malformed', `Expected deflated bytes in "${shown(entry)}" of the archive, they are damaged.`);
  }
  for (let at = 0; at < bytes.length; at += PIECE) see(bytes.subarray(at, at + PIECE));
}

function inflate(source: Source, span: Span & { readonly entry: ZipEntry }, see: (piece: Uint8Array) => void): void {
  // What `see` throws passes through the unpacker, which would otherwise be taken for its own failure.
  let thrown: unknown;
  const inflater = new Inflate((piece) => {
    try {
      see(piece);
    } catch (error) {
      thrown ??= error;
      throw error;
    }
  });
  try {
    eachPiece(source, span, (piece, last) => inflater.push(piece, last));
  } catch {
    if (thrown !== undefined) throw thrown;
    refuse('malformed', `Expected deflated bytes in "${shown(span.entry)}" of the archive, they are damaged.`);
  }
}
