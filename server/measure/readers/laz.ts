import type { LasHeader } from './las-header.ts';
import { grouped, refuse } from './problem.ts';
import type { Source } from './source.ts';

/** Largest compressed file taken, bytes (own: the most points taken, at 10 bytes a point; it has to lie in memory whole). */
export const MAX_LAZ_BYTES = 600_000_000;
const SLICE = 1 << 24;

/** What is used of the unpacker. Source: laz-perf 0.0.7, a compiled module whose memory is `HEAPU8`. */
interface Unpacker {
  readonly HEAPU8: Uint8Array<ArrayBuffer>;
  readonly _malloc: (bytes: number) => number;
  readonly LASZip: new () => {
    open(at: number, length: number): void;
    getPoint(into: number): void;
    getCount(): number;
    getPointLength(): number;
    delete(): void;
  };
}

const ENDINGS = ['uncaughtException', 'unhandledRejection'] as const;

let fresh: Unpacker | undefined;

/** Makes the unpacker ready for the next compressed file: it starts in its own time, reading does not wait. */
export async function readyUnpacker(): Promise<void> {
  const { createLazPerf } = await import('laz-perf');
  // Its own complaints would go to the console; what is wrong comes back as a refusal.
  const quiet = { print: () => {}, printErr: () => {} };
  const ending: NodeJS.EventEmitter = process;
  const before = new Set(ENDINGS.flatMap((event) => ending.listeners(event)));
  fresh = await createLazPerf(quiet);
  // It listens to the process for its own end and never stops, which would keep every unpacker in memory.
  for (const event of ENDINGS)
    for (const listener of ending.listeners(event))
      if (!before.has(listener)) ending.off(event, listener as () => void);
}

/** Unpacks the points of a compressed file one by one into `take`. The unpacker is used once: a bad file may leave it in any state. */
export function readPackedPoints(
  source: Source,
  header: LasHeader,
  take: (view: DataView, record: number, place: number) => void,
): void {
  if (source.size > MAX_LAZ_BYTES) {
    const most = `Expected at most ${grouped(MAX_LAZ_BYTES)} bytes of LAZ, the file has ${grouped(source.size)}.`;
    refuse('too-large', `${most} Export it as LAS, or thin it.`);
  }
  const unpacker = fresh;
  fresh = undefined;
  if (!unpacker) return refuse('unsupported', 'Expected plain LAS here, got LAZ: its unpacker was not started.');
  checkTable(source, header);
  const { file, record } = roomFor(unpacker, source.size, header.stride);
  copyIn(unpacker, source, file);
  const points = new unpacker.LASZip();
  guarded(0, () => points.open(file, source.size));
  const [count, length] = guarded(0, () => [points.getCount(), points.getPointLength()] as const);
  if (count !== header.count || length !== header.stride)
    refuse(
      'bad-header',
      `Expected ${grouped(header.count)} points of ${header.stride} bytes, the packed part has ${grouped(count)} of ${length}.`,
    );
  const at = { view: new DataView(unpacker.HEAPU8.buffer) };
  for (let i = 0; i < header.count; i++) {
    guarded(i, () => points.getPoint(record));
    // Memory that grew is another buffer.
    if (at.view.buffer !== unpacker.HEAPU8.buffer) at.view = new DataView(unpacker.HEAPU8.buffer);
    take(at.view, record, i + 1);
  }
}

/** Where the table of chunks begins stands before the points, or at the end of the file where that was not known in time. */
function checkTable(source: Source, { offset }: LasHeader): void {
  const word = Buffer.alloc(8);
  const at = (place: number): bigint => (source.read(word, place) === 8 ? word.readBigInt64LE(0) : -2n);
  const first = at(offset);
  const table = first === -1n ? at(source.size - 8) : first;
  if (table < BigInt(offset + 8) || table + 8n > BigInt(source.size)) {
    const place = `the table of its packed points at byte ${table}`;
    refuse(
      'truncated',
      `Expected ${place}, the file has ${grouped(source.size)} bytes. Upload it again, or export it again.`,
    );
  }
}

function roomFor(unpacker: Unpacker, bytes: number, stride: number): { file: number; record: number } {
  const room = guarded(0, () => ({ record: unpacker._malloc(stride + 256), file: unpacker._malloc(bytes) }));
  if (room.file === 0 || room.record === 0)
    refuse('too-large', `Expected a file that fits into memory, got ${grouped(bytes)} bytes.`);
  return room;
}

function copyIn(unpacker: Unpacker, source: Source, file: number): void {
  for (let at = 0; at < source.size; at += SLICE)
    source.read(unpacker.HEAPU8.subarray(file + at, file + Math.min(at + SLICE, source.size)), at);
}

/** Whatever the unpacker throws (numbers, aborts, out of bounds) means that the packed bytes are not what they should be. */
function guarded<T>(done: number, use: () => T): T {
  try {
    return use();
  } catch {
    return refuse(
      'malformed',
      `Expected packed points; unpacking broke after ${grouped(done)} of them. Export the file again.`,
    );
  }
}
