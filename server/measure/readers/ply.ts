import type { RowStyle } from './number-scan.ts';
import { PLAIN_ROW, scanRow } from './number-scan.ts';
import { grouped, refuse } from './problem.ts';
import type { Gathered, SinkOptions } from './sink.ts';
import { PointSink, refuseTooMany } from './sink.ts';
import type { Source } from './source.ts';
import { eachLine, eachRecord, headOf } from './source.ts';

/** Longest header looked for, bytes (own: room for hundreds of comment lines). */
const MAX_HEADER = 1 << 16;

/** Bytes of each number type, old and new names. Source: the PLY format of Stanford, 1994 (memory). */
const SIZES: Readonly<Record<string, number>> = {
  char: 1,
  int8: 1,
  uchar: 1,
  uint8: 1,
  short: 2,
  int16: 2,
  ushort: 2,
  uint16: 2,
  int: 4,
  int32: 4,
  uint: 4,
  uint32: 4,
  float: 4,
  float32: 4,
  double: 8,
  float64: 8,
};

type Encoding = 'ascii' | 'binary_little_endian' | 'binary_big_endian';

interface Property {
  readonly name: string;
  readonly type: string;
  readonly list: boolean;
}

interface Element {
  readonly name: string;
  readonly count: number;
  readonly properties: Property[];
}

interface Header {
  readonly encoding: Encoding;
  readonly elements: readonly Element[];
  /** First byte after the header. */
  readonly end: number;
  readonly lines: number;
}

/** What a PLY file held. */
export interface PlyScan extends Gathered {
  readonly format: 'ply-ascii' | 'ply-binary-le' | 'ply-binary-be';
}

/** Reads the vertices of a PLY file, all three encodings; faces and other properties are passed over. */
export function readPly(source: Source, options: SinkOptions): PlyScan {
  const header = readHeader(source);
  const at = header.elements.findIndex((element) => element.name === 'vertex');
  const vertex = header.elements[at];
  if (!vertex)
    refuse('no-coordinates', `Expected an element "vertex" in the PLY header, got ${named(header.elements)}.`);
  if (vertex.count === 0) refuse('empty', 'Expected points, the PLY header says 0 vertices.');
  const missing = ['x', 'y', 'z'].filter((axis) => !vertex.properties.some((p) => p.name === axis && !p.list));
  if (missing.length > 0) {
    refuse(
      'no-coordinates',
      `Expected vertex properties x, y and z; ${missing.join(', ')} missing among ${named(vertex.properties)}.`,
    );
  }
  if (vertex.properties.some((p) => p.list)) {
    refuse('unsupported', 'Expected vertices with single numbers only; this PLY file has a list in each vertex.');
  }
  const before = header.elements.slice(0, at);
  return header.encoding === 'ascii'
    ? readAscii(source, { header, vertex, before }, options)
    : readBinary(source, { header, vertex, before }, options);
}

const named = (things: readonly { readonly name: string }[]): string =>
  things.map((thing) => `"${thing.name}"`).join(', ') || 'none';

interface Layout {
  readonly header: Header;
  readonly vertex: Element;
  /** Elements that stand before the vertices in the file. */
  readonly before: readonly Element[];
}

function readHeader(source: Source): Header {
  const text = headOf(source, MAX_HEADER).toString('latin1');
  const found = /(?:^|[\r\n])end_header[ \t]*(\r\n|\n|\r)/.exec(text);
  if (!found) {
    const code = source.size < MAX_HEADER ? 'truncated' : 'bad-header';
    refuse(
      code,
      `Expected a PLY header that ends with "end_header" within ${grouped(MAX_HEADER)} bytes, found no such line.`,
    );
  }
  const end = found.index + found[0].length;
  const lines = text
    .slice(0, end)
    .split(/\r\n|\n|\r/)
    .slice(0, -1);
  const elements: Element[] = [];
  let encoding: Encoding | undefined;
  for (const line of lines) {
    const words = line.trim().split(/\s+/);
    if (words[0] === 'format') encoding = encodingOf(words[1]);
    else if (words[0] === 'element') elements.push(elementOf(words));
    else if (words[0] === 'property') elements.at(-1)?.properties.push(propertyOf(words));
  }
  if (!encoding) refuse('bad-header', 'Expected a line "format" in the PLY header, found none.');
  return { encoding, elements, end, lines: lines.length };
}

function encodingOf(word: string | undefined): Encoding {
  if (word === 'ascii' || word === 'binary_little_endian' || word === 'binary_big_endian') return word;
  return refuse(
    'unsupported',
    `Expected PLY format ascii, binary_little_endian or binary_big_endian, got "${(word ?? '').slice(0, 40)}".`,
  );
}

function elementOf([, name = '', count = '']: readonly string[]): Element {
  if (!/^\d{1,15}$/.test(count)) {
    refuse(
      'bad-header',
      `Expected a whole number of "${name.slice(0, 40)}" in the PLY header, got "${count.slice(0, 40)}".`,
    );
  }
  return { name, count: Number(count), properties: [] };
}

function propertyOf(words: readonly string[]): Property {
  const list = words[1] === 'list';
  const [type = '', name = ''] = list ? [words[3], words[4]] : [words[1], words[2]];
  if (!SIZES[type])
    refuse('unsupported', `Expected a PLY number type such as float or double, got "${type.slice(0, 40)}".`);
  return { name, type, list };
}

/** Bytes of one record, or undefined when a list makes it vary. */
function strideOf(element: Element): number | undefined {
  if (element.properties.some((p) => p.list)) return undefined;
  return element.properties.reduce((sum, p) => sum + (SIZES[p.type] ?? 0), 0);
}

function readBinary(source: Source, { header, vertex, before }: Layout, options: SinkOptions): PlyScan {
  let offset = header.end;
  for (const element of before) {
    const stride = strideOf(element);
    if (stride === undefined)
      refuse('unsupported', `Expected vertices before lists; this PLY file has "${element.name}" lists first.`);
    offset += element.count * stride;
  }
  const stride = strideOf(vertex) ?? 0;
  // The header is a claim: nothing is taken from memory before the file has shown that it can hold so much.
  promise(source, { count: vertex.count, bytes: offset + vertex.count * stride, options });
  const little = header.encoding === 'binary_little_endian';
  const [x, y, z] = ['x', 'y', 'z'].map((axis) => fieldOf(vertex, axis, little));
  if (!x || !y || !z) refuse('no-coordinates', 'Expected vertex properties x, y and z.');
  const sink = new PointSink(options, vertex.count);
  const got = eachRecord(source, { offset, stride, count: vertex.count }, (view, records, first) => {
    for (let i = 0, o = 0; i < records; i++, o += stride) sink.add(x(view, o), y(view, o), z(view, o), first + i + 1);
  });
  if (got < vertex.count)
    refuse('truncated', `Expected ${grouped(vertex.count)} points, the file ended after ${grouped(got)}.`);
  return { ...sink.finish('point'), format: little ? 'ply-binary-le' : 'ply-binary-be' };
}

function promise(source: Source, claim: { count: number; bytes: number; options: SinkOptions }): void {
  if (claim.bytes > source.size) {
    const text = `The header promises ${grouped(claim.count)} points = ${grouped(claim.bytes)} bytes, the file has ${grouped(source.size)}.`;
    refuse('truncated', `${text} Upload it again, or export it again.`);
  }
  if (claim.count > claim.options.maxPoints) refuseTooMany(claim.options.maxPoints, claim.count);
}

type Field = (view: DataView, record: number) => number;

function fieldOf(vertex: Element, axis: string, little: boolean): Field | undefined {
  let at = 0;
  for (const property of vertex.properties) {
    if (property.name === axis) return getter(property.type, at, little);
    at += SIZES[property.type] ?? 0;
  }
  return undefined;
}

function getter(type: string, at: number, little: boolean): Field {
  switch (type) {
    case 'float':
    case 'float32':
      return (view, record) => view.getFloat32(record + at, little);
    case 'double':
    case 'float64':
      return (view, record) => view.getFloat64(record + at, little);
    case 'int':
    case 'int32':
      return (view, record) => view.getInt32(record + at, little);
    case 'uint':
    case 'uint32':
      return (view, record) => view.getUint32(record + at, little);
    case 'short':
    case 'int16':
      return (view, record) => view.getInt16(record + at, little);
    case 'ushort':
    case 'uint16':
      return (view, record) => view.getUint16(record + at, little);
    case 'char':
    case 'int8':
      return (view, record) => view.getInt8(record + at);
    default:
      return (view, record) => view.getUint8(record + at);
  }
}

function readAscii(source: Source, { header, vertex, before }: Layout, options: SinkOptions): PlyScan {
  const passed = before.reduce((sum, element) => sum + element.count, 0);
  // A row has at least a digit and a separator for every property.
  const leastBytes = header.end + 2 * (passed + vertex.count * vertex.properties.length) - 1;
  promise(source, { count: vertex.count, bytes: leastBytes, options });
  const column = (axis: string): number => vertex.properties.findIndex((p) => p.name === axis);
  const style: RowStyle = { ...PLAIN_ROW, columns: [column('x'), column('y'), column('z')] };
  const sink = new PointSink(options, vertex.count);
  const point = new Float64Array(3);
  let row = 0;
  eachLine(source, { offset: header.end, firstNumber: header.lines + 1 }, (line) => {
    if (row >= passed + vertex.count) return false;
    if (row++ < passed) return true;
    if (!scanRow(line, style, point)) {
      refuse(
        'malformed',
        `Expected ${grouped(vertex.count)} rows of numbers; line ${grouped(line.number)} is not one.`,
      );
    }
    sink.add(point[0] ?? 0, point[1] ?? 0, point[2] ?? 0, line.number);
    return row < passed + vertex.count;
  });
  const got = Math.max(0, row - passed);
  if (got < vertex.count) {
    refuse('truncated', `The header promises ${grouped(vertex.count)} points, the file ends after ${grouped(got)}.`);
  }
  return { ...sink.finish('line'), format: 'ply-ascii' };
}
