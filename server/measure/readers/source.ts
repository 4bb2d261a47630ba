import { closeSync, fstatSync, openSync, readSync } from 'node:fs';
import { grouped, refuse } from './problem.ts';

/** Largest file taken, bytes (own: 60 M points of 7 text columns). */
export const MAX_FILE_BYTES = 6 * 1024 ** 3;
const CHUNK = 1 << 20;

/** A file open for reading by position. Reading blocks the thread: for workers only. */
export interface Source {
  readonly size: number;
  /** Fills as much of the buffer as the file has from there; gives the number of bytes. */
  readonly read: (into: Uint8Array, position: number) => number;
}

/** Opens a file, hands it to `use` and closes it again, whatever happens. Refuses what is no file, has no bytes or too many. */
export function withSource<T>(path: string, use: (source: Source) => T): T {
  let handle: number;
  try {
    handle = openSync(path, 'r');
  } catch (error) {
    refuse('unreadable-file', `The scan file could not be opened: ${reason(error)}.`);
  }
  try {
    const stat = fstatSync(handle);
    if (!stat.isFile()) refuse('unreadable-file', 'Expected a file, got something else (a folder or a device).');
    if (stat.size === 0) refuse('empty', 'Expected a scan, got a file of 0 bytes.');
    if (stat.size > MAX_FILE_BYTES) {
      refuse('too-large', `Expected at most ${grouped(MAX_FILE_BYTES)} bytes, the file has ${grouped(stat.size)}.`);
    }
    return use({ size: stat.size, read: (into, position) => readFully(handle, into, position) });
  } finally {
    closeSync(handle);
  }
}

/** The error code only: the message of the system names a path on this machine. */
const reason = (error: unknown): string =>
  error instanceof Error && 'code' in error ? String(error.code) : 'unknown reason';

function readFully(handle: number, into: Uint8Array, position: number): number {
  let got = 0;
  while (got < into.length) {
    const n = readSync(handle, into, got, into.length - got, position + got);
    if (n === 0) break;
    got += n;
  }
  return got;
}

/** The first bytes of a file, at most `length`. */
export function headOf(source: Source, length: number): Buffer {
  const head = Buffer.alloc(Math.min(length, source.size));
  return head.subarray(0, source.read(head, 0));
}

/**
 * Calls `visit` with runs of whole fixed-size records, one chunk in memory at a time. The view is used again for the next run.
 * @returns number of whole records found (fewer than asked if the file ends)
 */
export function eachRecord(
  source: Source,
  table: { readonly offset: number; readonly stride: number; readonly count: number },
  visit: (view: DataView, records: number, first: number) => void,
): number {
  const perChunk = Math.max(1, Math.floor(CHUNK / table.stride));
  const chunk = Buffer.alloc(perChunk * table.stride);
  const view = new DataView(chunk.buffer, chunk.byteOffset, chunk.length);
  for (let done = 0; done < table.count; ) {
    const wanted = Math.min(perChunk, table.count - done);
    const got = source.read(chunk.subarray(0, wanted * table.stride), table.offset + done * table.stride);
    const whole = Math.floor(got / table.stride);
    visit(view, whole, done);
    done += whole;
    if (whole < wanted) return done;
  }
  return table.count;
}

/** One line of text: bytes start..end of the buffer, without its line end; number counts from 1 in the file. */
export interface Line {
  readonly bytes: Uint8Array;
  readonly start: number;
  readonly end: number;
  readonly number: number;
}

const LF = 10;
const CR = 13;

/**
 * Calls `visit` with every line from an offset on, one chunk in memory at a time; the buffer is used again. A last line without a line end
 * counts. Return false from `visit` to stop. A line longer than a chunk is no text scan and is refused.
 */
export function eachLine(
  source: Source,
  from: { offset: number; firstNumber: number },
  visit: (line: Line) => boolean,
): void {
  const bytes = Buffer.alloc(CHUNK);
  const line = { bytes, start: 0, end: 0, number: from.firstNumber };
  let position = from.offset;
  let held = 0;
  let lineEnd = 0;
  for (;;) {
    const got = source.read(bytes.subarray(held), position);
    position += got;
    const filled = held + got;
    lineEnd ||= lineEndOf(bytes.subarray(0, filled));
    let start = 0;
    for (let end = bytes.indexOf(lineEnd, start); end >= 0 && end < filled; end = bytes.indexOf(lineEnd, start)) {
      line.start = start;
      line.end = end;
      if (!visit(line)) return;
      line.number++;
      start = end + 1;
    }
    if (start === 0 && filled === bytes.length) {
      refuse('unknown-format', `Expected lines of numbers; line ${line.number} has more than ${grouped(CHUNK)} bytes.`);
    }
    held = filled - start;
    if (got === 0) {
      line.start = start;
      line.end = filled;
      if (held > 0) visit(line);
      return;
    }
    bytes.copy(bytes, 0, start, filled);
  }
}

/** Line feed ends lines, alone or after a carriage return; a file without any uses the bare carriage return of old. */
const lineEndOf = (bytes: Buffer): number => (bytes.includes(LF) || !bytes.includes(CR) ? LF : CR);
