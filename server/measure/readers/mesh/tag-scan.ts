import { grouped, refuse } from '../problem.ts';

/** One tag of an XML file: bytes start..end of a buffer, without the angle brackets. The buffer is used again for the next. */
export interface Tag {
  readonly bytes: Uint8Array;
  readonly start: number;
  readonly end: number;
}

/** Longest unfinished tag kept (own). Without a limit a file of one endless tag is copied again and again. */
const MOST_HELD = 1 << 16;
const [OPEN, CLOSE, BANG, DASH] = ['<', '>', '!', '-'].map((sign) => sign.charCodeAt(0));
const [DOUBLE, SINGLE] = ['"', "'"].map((sign) => sign.charCodeAt(0));
const EQUALS = '='.charCodeAt(0);

/** Cuts a stream of pieces into tags; text between tags and comments are passed over. */
export class TagScan {
  private readonly see: (tag: Tag) => void;
  private held: Uint8Array = new Uint8Array(0);
  private readonly tag = { bytes: this.held, start: 0, end: 0 };
  private first = true;

  constructor(see: (tag: Tag) => void) {
    this.see = see;
  }

  /** Takes the next piece of the file. */
  push(piece: Uint8Array): void {
    if (this.first && piece.length > 1) this.checkEncoding(piece);
    const bytes = this.held.length > 0 ? joined(this.held, piece) : piece;
    this.tag.bytes = bytes;
    let at = bytes.indexOf(OPEN ?? 0);
    while (at >= 0) {
      const end = endOf(bytes, at);
      if (end < 0) break;
      if (bytes[at + 1] !== BANG) {
        this.tag.start = at + 1;
        this.tag.end = end;
        this.see(this.tag);
      } else if (bytes[at + 2] !== DASH)
        refuse('unsupported', 'Expected XML without declarations of its own, got "<!".');
      at = bytes.indexOf(OPEN ?? 0, end + 1);
    }
    this.held = at < 0 ? new Uint8Array(0) : bytes.slice(at);
    if (this.held.length > MOST_HELD) {
      refuse('malformed', `Expected tags of at most ${grouped(MOST_HELD)} bytes, one is longer.`);
    }
  }

  /** Says that the file has ended. */
  end(): void {
    if (this.held.length > 0) refuse('truncated', 'Expected the last tag of the model to end, the file ends in it.');
  }

  private checkEncoding(piece: Uint8Array): void {
    this.first = false;
    const [a, b] = piece;
    if (a === 0 || b === 0 || a === 0xff || a === 0xfe) refuse('unsupported', 'Expected XML in UTF-8, got UTF-16.');
  }
}

function joined(a: Uint8Array, b: Uint8Array): Uint8Array {
  const both = new Uint8Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
}

/** Where the tag that begins at an open bracket ends; -1 when the bytes end before. Brackets in quotes are text. */
function endOf(bytes: Uint8Array, open: number): number {
  if (bytes[open + 1] === BANG && bytes[open + 2] === DASH) {
    let at = open + 4;
    for (at = bytes.indexOf(CLOSE ?? 0, at); at >= 0; at = bytes.indexOf(CLOSE ?? 0, at + 1)) {
      if (at >= open + 6 && bytes[at - 1] === DASH && bytes[at - 2] === DASH) return at;
    }
    return -1;
  }
  let quote = 0;
  for (let at = open + 1; at < bytes.length; at++) {
    const byte = bytes[at] ?? 0;
    if (quote) quote = byte === quote ? 0 : quote;
    else if (byte === CLOSE) return at;
    else if (byte === DOUBLE || byte === SINGLE) quote = byte;
  }
  return -1;
}

/** The name of a tag, with a slash before it when it closes. */
export function tagName({ bytes, start, end }: Tag): string {
  let to = start;
  while (to < end && (bytes[to] ?? 0) > 32 && (to === start || bytes[to] !== 47)) to++;
  return Buffer.from(bytes.subarray(start, Math.min(to, start + 64))).toString('latin1');
}

/** One attribute of a tag: where its name ends, and its value between the quotes. */
export interface Attribute {
  nameEnd: number;
  valueStart: number;
  valueEnd: number;
}

/**
 * Finds the attribute behind the last one, or the first of the tag when `valueEnd` is where the tag starts. The object is filled again.
 * @returns false at the end, and where the tag is not well formed
 */
export function nextAttribute({ bytes, start, end }: Tag, attribute: Attribute): boolean {
  const from = attribute.valueEnd === start ? start : attribute.valueEnd + 1;
  const equals = seek(bytes, EQUALS, from, end);
  if (equals < 0) return false;
  const open = forwardOver(bytes, equals + 1);
  const quote = bytes[open] ?? 0;
  const close = quote === DOUBLE || quote === SINGLE ? seek(bytes, quote, open + 1, end) : -1;
  if (close < 0) return false;
  attribute.nameEnd = backOver(bytes, equals);
  attribute.valueStart = open + 1;
  attribute.valueEnd = close;
  return true;
}

/** Where a byte stands; -1 when it does not. Tags are short: calling the buffer's own search costs more. */
function seek(bytes: Uint8Array, byte: number, from: number, end: number): number {
  for (let at = from; at < end; at++) if (bytes[at] === byte) return at;
  return -1;
}

/** The end of what stands before an offset, blanks left out. */
export function backOver(bytes: Uint8Array, end: number): number {
  let at = end;
  while (at > 0 && (bytes[at - 1] ?? 0) <= 32) at--;
  return at;
}

/** The beginning of what stands from an offset on, blanks left out. */
export function forwardOver(bytes: Uint8Array, from: number): number {
  let at = from;
  while (at < bytes.length && (bytes[at] ?? 0) <= 32) at++;
  return at;
}

/** All attributes of a tag as text; for the few tags that do not come by the million. */
export function attributesOf(tag: Tag): ReadonlyMap<string, string> {
  const { bytes, start } = tag;
  const text = (from: number, to: number): string => Buffer.from(bytes.subarray(from, to)).toString('utf8');
  const found = new Map<string, string>();
  const attribute = { nameEnd: 0, valueStart: 0, valueEnd: start };
  while (nextAttribute(tag, attribute)) {
    const { nameEnd, valueStart, valueEnd } = attribute;
    let from = nameEnd;
    while (from > start && (bytes[from - 1] ?? 0) > 32) from--;
    found.set(text(from, nameEnd), text(valueStart, valueEnd));
  }
  return found;
}
