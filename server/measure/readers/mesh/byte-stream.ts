import type { Source } from '../source.ts';

const CHUNK = 1 << 18;

/** Reads a file from an offset on, byte group by byte group, one chunk in memory at a time. */
export class ByteStream {
  private readonly source: Source;
  private chunk: Buffer;
  private view: DataView;
  private filled = 0;
  private at = 0;
  private position: number;

  constructor(source: Source, offset: number) {
    this.source = source;
    this.position = offset;
    this.chunk = Buffer.alloc(CHUNK);
    this.view = new DataView(this.chunk.buffer, this.chunk.byteOffset, CHUNK);
  }

  /**
   * Makes the next bytes available and steps over them.
   * @param bytes at most CHUNK
   * @returns where they begin in `bytesHeld`, or -1 when the file ends before that
   */
  take(bytes: number): number {
    if (this.at + bytes > this.filled && !this.fill(bytes)) return -1;
    const from = this.at;
    this.at += bytes;
    return from;
  }

  /** The chunk that `take` points into; another one after the next `take`. */
  get held(): DataView {
    return this.view;
  }

  /** Steps over bytes without looking at them. */
  skip(bytes: number): void {
    const held = Math.min(bytes, this.filled - this.at);
    this.at += held;
    this.position += bytes - held;
  }

  private fill(bytes: number): boolean {
    this.chunk.copy(this.chunk, 0, this.at, this.filled);
    this.filled -= this.at;
    this.at = 0;
    const got = this.source.read(this.chunk.subarray(this.filled), this.position);
    this.position += got;
    this.filled += got;
    return bytes <= this.filled;
  }
}
