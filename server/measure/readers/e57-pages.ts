import { crc32c } from './crc32c.ts';
import { grouped, refuse } from './problem.ts';
import type { Source } from './source.ts';
import { headOf } from './source.ts';

const HEADER = 48;
const SUM = 4;
/** Pages read at a time. */
const RUN = 1024;

/** An E57 file as one stream without the sums of its pages. Positions in the file itself are "physical", in the stream "logical". */
export interface E57Pages {
  readonly xmlAt: number;
  readonly xmlLength: number;
  /** Number of bytes of the stream. */
  readonly length: number;
  /** The logical place of a physical one. */
  readonly logical: (physical: number) => number;
  /** Fills the buffer from a logical place on; refuses when the stream ends before. */
  readonly read: (into: Uint8Array, logical: number) => void;
}

/** Opens the pages of an E57 file. Every page is checked against its CRC-32C when it is read. Source: ASTM E2807 (memory). */
export function e57Pages(source: Source): E57Pages {
  const head = headOf(source, HEADER);
  if (head.length < HEADER) refuse('truncated', `Expected an E57 header of ${HEADER} bytes, got ${head.length}.`);
  const [major, minor] = [head.readUInt32LE(8), head.readUInt32LE(12)];
  if (major !== 1) refuse('unsupported', `Expected E57 version 1, got ${major}.${minor}.`);
  const [size, xmlAt, xmlLength, page] = [16, 24, 32, 40].map((at) => whole(head, at));
  if (size === undefined || xmlAt === undefined || xmlLength === undefined || page === undefined)
    return refuse('bad-header', 'Expected an E57 header with sizes that a file can have.');
  // The standard fixes 1024; other powers of two are read as well, but not any number.
  if (page < 64 || page > 1 << 20 || (page & (page - 1)) !== 0)
    refuse('bad-header', `Expected E57 pages of 1024 bytes, got ${grouped(page)}.`);
  if (size > source.size || size % page !== 0) {
    const claim = `The E57 header promises ${grouped(size)} bytes in pages of ${grouped(page)}`;
    refuse('truncated', `${claim}, the file has ${grouped(source.size)}. Upload it again, or export it again.`);
  }
  const stream = new PagedStream(source, size, page);
  return {
    xmlAt: stream.logical(xmlAt),
    xmlLength,
    length: stream.length,
    logical: (physical) => stream.logical(physical),
    read: (into, logical) => stream.read(into, logical),
  };
}

function whole(head: Buffer, at: number): number | undefined {
  const value = head.readBigUInt64LE(at);
  return value <= BigInt(Number.MAX_SAFE_INTEGER) ? Number(value) : undefined;
}

class PagedStream {
  readonly length: number;
  private readonly source: Source;
  private readonly page: number;
  private readonly pages: number;
  /** A run of pages without their sums, and the first of them. */
  private readonly held: Buffer;
  private first = -1;
  private heldPages = 0;

  constructor(source: Source, size: number, page: number) {
    this.source = source;
    this.page = page;
    this.pages = size / page;
    this.length = this.pages * (page - SUM);
    this.held = Buffer.alloc(Math.min(RUN, Math.max(1, this.pages)) * (page - SUM));
  }

  logical(physical: number): number {
    const { page } = this;
    if (physical % page >= page - SUM || physical >= this.pages * page)
      refuse('bad-header', `Expected a place in the E57 file, got byte ${grouped(physical)}.`);
    return Math.floor(physical / page) * (page - SUM) + (physical % page);
  }

  read(into: Uint8Array, logical: number): void {
    const data = this.page - SUM;
    if (logical < 0 || logical + into.length > this.length)
      refuse(
        'truncated',
        `Expected ${grouped(into.length)} bytes at ${grouped(logical)}, the E57 file has ${grouped(this.length)}.`,
      );
    for (let done = 0; done < into.length; ) {
      const place = logical + done;
      const wanted = Math.floor(place / data);
      if (wanted < this.first || wanted >= this.first + this.heldPages || this.first < 0) this.fetch(wanted);
      const from = place - this.first * data;
      const take = Math.min(into.length - done, this.heldPages * data - from);
      into.set(this.held.subarray(from, from + take), done);
      done += take;
    }
  }

  private fetch(wanted: number): void {
    const { page, held } = this;
    const run = held.length / (page - SUM);
    const count = Math.min(run, this.pages - wanted);
    const raw = Buffer.alloc(count * page);
    if (this.source.read(raw, wanted * page) < raw.length)
      refuse('truncated', `The E57 file ended within page ${grouped(wanted)}. Upload it again.`);
    for (let i = 0; i < count; i++) {
      const end = (i + 1) * page - SUM;
      if (crc32c(raw, i * page, end) !== raw.readUInt32BE(end))
        refuse(
          'malformed',
          `Expected whole pages; page ${grouped(wanted + i)} of the E57 file is damaged: its sum differs. Upload it again.`,
        );
      raw.copy(held, i * (page - SUM), i * page, end);
    }
    this.first = wanted;
    this.heldPages = count;
  }
}
