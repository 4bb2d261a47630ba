import { grouped, refuse } from '../problem.ts';
import type { Source } from '../source.ts';
import { headOf } from '../source.ts';

/** Longest header looked for, bytes (own: room for hundreds of comment lines). */
const MAX_HEADER = 1 << 16;

/** A number of a record, or for a list the type of its count and of its items. */
export interface PlyProperty {
  readonly name: string;
  readonly type: PlyType;
  readonly countType?: PlyType;
}

export interface PlyElement {
  readonly name: string;
  readonly count: number;
  readonly properties: readonly PlyProperty[];
}

export interface PlyHeader {
  readonly encoding: PlyEncoding;
  readonly elements: readonly PlyElement[];
  /** First byte after the header. */
  readonly end: number;
  readonly lines: number;
}

type PlyEncoding = 'ascii' | 'binary_little_endian' | 'binary_big_endian';

/** A number type by its short name and size in bytes. Source: the PLY format of Stanford, 1994 (memory). */
export interface PlyType {
  readonly kind: 'i1' | 'u1' | 'i2' | 'u2' | 'i4' | 'u4' | 'f4' | 'f8';
  readonly bytes: number;
}

/** Old and new names. */
const TYPES: Readonly<Record<string, PlyType>> = {
  char: { kind: 'i1', bytes: 1 },
  int8: { kind: 'i1', bytes: 1 },
  uchar: { kind: 'u1', bytes: 1 },
  uint8: { kind: 'u1', bytes: 1 },
  short: { kind: 'i2', bytes: 2 },
  int16: { kind: 'i2', bytes: 2 },
  ushort: { kind: 'u2', bytes: 2 },
  uint16: { kind: 'u2', bytes: 2 },
  int: { kind: 'i4', bytes: 4 },
  int32: { kind: 'i4', bytes: 4 },
  uint: { kind: 'u4', bytes: 4 },
  uint32: { kind: 'u4', bytes: 4 },
  float: { kind: 'f4', bytes: 4 },
  float32: { kind: 'f4', bytes: 4 },
  double: { kind: 'f8', bytes: 8 },
  float64: { kind: 'f8', bytes: 8 },
};

/** Reads the header of a PLY file, lists with both of their types. */
export function readPlyHeader(source: Source): PlyHeader {
  const text = headOf(source, MAX_HEADER).toString('latin1');
  const found = /(?:^|[\r\n])end_header[ \t]*(\r\n|\n|\r)/.exec(text);
  if (!found) {
    const code = source.size < MAX_HEADER ? 'truncated' : 'bad-header';
    refuse(code, `Expected a PLY header that ends with "end_header" within ${grouped(MAX_HEADER)} bytes.`);
  }
  const end = found.index + found[0].length;
  const lines = text
    .slice(0, end)
    .split(/\r\n|\n|\r/)
    .slice(0, -1);
  const elements: { name: string; count: number; properties: PlyProperty[] }[] = [];
  let encoding: PlyEncoding | undefined;
  for (const line of lines) {
    const words = line.trim().split(/\s+/);
    if (words[0] === 'format') encoding = encodingOf(words[1]);
    else if (words[0] === 'element') elements.push({ ...elementOf(words), properties: [] });
    else if (words[0] === 'property') elements.at(-1)?.properties.push(propertyOf(words));
  }
  if (!encoding) refuse('bad-header', 'Expected a line "format" in the PLY header, found none.');
  return { encoding, elements, end, lines: lines.length };
}

function encodingOf(word = ''): PlyEncoding {
  if (word === 'ascii' || word === 'binary_little_endian' || word === 'binary_big_endian') return word;
  return refuse(
    'unsupported',
    `Expected PLY format ascii, binary_little_endian or binary_big_endian, got "${word.slice(0, 40)}".`,
  );
}

function elementOf([, name = '', count = '']: readonly string[]): { name: string; count: number } {
  if (!/^\d{1,15}$/.test(count)) {
    const [what, came] = [name.slice(0, 40), count.slice(0, 40)];
    refuse('bad-header', `Expected a whole number of "${what}" in the PLY header, got "${came}".`);
  }
  return { name, count: Number(count) };
}

function propertyOf(words: readonly string[]): PlyProperty {
  if (words[1] !== 'list') return { name: words[2] ?? '', type: typeOf(words[1]) };
  return { name: words[4] ?? '', type: typeOf(words[3]), countType: typeOf(words[2]) };
}

function typeOf(word = ''): PlyType {
  const type = Object.hasOwn(TYPES, word) ? TYPES[word] : undefined;
  return type ?? refuse('unsupported', `Expected a PLY number type such as float or int, got "${word.slice(0, 40)}".`);
}

/** The number of a type at an offset. */
export function numberAt(view: DataView, at: number, { kind }: PlyType, little: boolean): number {
  switch (kind) {
    case 'f4':
      return view.getFloat32(at, little);
    case 'f8':
      return view.getFloat64(at, little);
    case 'i4':
      return view.getInt32(at, little);
    case 'u4':
      return view.getUint32(at, little);
    case 'i2':
      return view.getInt16(at, little);
    case 'u2':
      return view.getUint16(at, little);
    case 'i1':
      return view.getInt8(at);
    case 'u1':
      return view.getUint8(at);
  }
}
