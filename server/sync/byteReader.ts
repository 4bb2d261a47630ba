/** Why an update is not taken: not an update of our documents, builds on what is not there, or larger than allowed. */
export type RefusalKind = 'malformed' | 'gap' | 'limit';

/** Thrown while an update is held against the bounds. */
export class Refusal extends Error {
  readonly kind: RefusalKind;
  constructor(kind: RefusalKind, message: string) {
    super(message);
    this.kind = kind;
  }
}

export const malformed = (message: string): never => {
  throw new Refusal('malformed', message);
};

/** Reads a byte string; every read checks that the bytes are there. */
export class ByteReader {
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
    const start = this.pos;
    const length = this.skipText(max);
    const from = this.data.byteOffset + start + (this.pos - start - length);
    return Buffer.from(this.data.buffer, from, length).toString('utf8');
  }

  /** Passes over a text and gives its length in bytes. */
  skipText(max: number): number {
    const length = this.uint();
    if (length > this.left()) malformed(`a text says ${length} bytes, only ${this.left()} follow`);
    if (length > max) throw new Refusal('limit', `expected at most ${max} bytes of text, got ${length}`);
    this.pos += length;
    return length;
  }

  signedSkip(): void {
    let b = this.byte();
    for (let i = 0; b > 127; i++) {
      if (i > 7) malformed('a number is longer than 8 bytes');
      b = this.byte();
    }
  }
}
