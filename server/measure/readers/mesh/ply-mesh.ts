import type { Cursor } from '../number-scan.ts';
import { PLAIN_ROW, scanNumber } from '../number-scan.ts';
import { grouped, refuse } from '../problem.ts';
import type { Line, Source } from '../source.ts';
import { eachLine } from '../source.ts';
import { ByteStream } from './byte-stream.ts';
import type { MeshSink } from './mesh-sink.ts';
import type { PlyElement, PlyHeader, PlyProperty, PlyType } from './ply-header.ts';
import { numberAt, readPlyHeader } from './ply-header.ts';

/** How the file was written. */
export type PlyMeshFormat = 'ply-ascii' | 'ply-binary-le' | 'ply-binary-be';

/** Corners of one face and items of any list (own: a polygon of a thousand sides is a circle). */
const MOST_ITEMS = 10_000;

/**
 * Reads vertices and faces of a PLY file, all three encodings; other elements and properties are passed over. Faces of more than three
 * corners are cut into a fan from their first, which is right for convex ones; the mesh report finds what another became.
 */
export function readPlyMesh(source: Source, sink: MeshSink): PlyMeshFormat {
  const header = readPlyHeader(source);
  const face = checkElements(header);
  checkClaim(source, header);
  sink.expect(face.count);
  if (header.encoding === 'ascii') {
    readAscii(source, header, sink);
    return 'ply-ascii';
  }
  const little = header.encoding === 'binary_little_endian';
  const stream = new ByteStream(source, header.end);
  // As many triangles as the header says and the file has bytes for, at a byte and three numbers each.
  sink.reserve(Math.min(face.count, Math.floor(source.size / 13)));
  for (const element of header.elements) readElement(stream, element, { little, sink });
  return little ? 'ply-binary-le' : 'ply-binary-be';
}

/** Whole meshes only: says what is missing. Gives the element of the faces. */
function checkElements({ elements }: PlyHeader): PlyElement {
  const names = elements.map(({ name }) => `"${name}"`).join(', ') || 'none';
  const [vertex, face] = ['vertex', 'face'].map((name) => elements.find((element) => element.name === name));
  if (!vertex) refuse('no-coordinates', `Expected an element "vertex" in the PLY header, got ${names}.`);
  const missing = ['x', 'y', 'z'].filter((axis) => !vertex.properties.some((p) => p.name === axis && !p.countType));
  if (missing.length > 0) {
    refuse('no-coordinates', `Expected vertex properties x, y and z in the PLY header; ${missing.join(', ')} missing.`);
  }
  if (!face) {
    refuse('empty', `Expected an element "face" in the PLY header, got ${names}. Upload points as a scan.`);
  }
  if (!face.properties.some(isCorners)) {
    refuse('unsupported', 'Expected a list "vertex_indices" in each face of the PLY file, found none.');
  }
  return face;
}

const isCorners = ({ name, countType }: PlyProperty): boolean =>
  countType !== undefined && (name === 'vertex_indices' || name === 'vertex_index');

/** The header is a claim: nothing is read for long before the file has shown that it can hold so much. */
function checkClaim(source: Source, header: PlyHeader): void {
  const ascii = header.encoding === 'ascii';
  let bytes = header.end;
  for (const { count, properties } of header.elements) {
    // A text row has at least a digit and a separator for every property; a list may be empty.
    const least = properties.reduce((sum, p) => sum + (ascii ? 2 : (p.countType ?? p.type).bytes), 0);
    bytes += count * least;
  }
  if (bytes <= source.size + (ascii ? 1 : 0)) return;
  const claim = header.elements.map(({ name, count }) => `${grouped(count)} of "${name}"`).join(', ');
  const text = `The header promises ${claim}, at least ${grouped(bytes)} bytes; the file has ${grouped(source.size)}.`;
  refuse('truncated', `${text} Upload it again, or export it again.`);
}

interface Taking {
  readonly little: boolean;
  readonly sink: MeshSink;
}

function readElement(stream: ByteStream, element: PlyElement, taking: Taking): void {
  // Records of nothing have no bytes that would run out.
  if (element.properties.length === 0) return;
  if (element.properties.every(({ countType }) => !countType)) readPlain(stream, element, taking);
  else if (element.name === 'face') readFaces(stream, element, taking);
  else {
    for (let record = 1; record <= element.count; record++) readMixed(stream, element, record, taking);
  }
}

/** Records of single numbers are all of one length: the usual vertices. */
function readPlain(stream: ByteStream, element: PlyElement, { little, sink }: Taking): void {
  const { properties } = element;
  const starts = properties.map((_, i) => properties.slice(0, i).reduce((sum, { type }) => sum + type.bytes, 0));
  const stride = properties.reduce((sum, { type }) => sum + type.bytes, 0);
  const fields = ['x', 'y', 'z'].map((axis) => {
    const i = properties.findIndex(({ name }) => name === axis);
    return { start: starts[i] ?? 0, type: properties[i]?.type ?? BYTE };
  });
  const [x, y, z] = fields;
  if (!x || !y || !z) return;
  for (let record = 1; record <= element.count; record++) {
    const at = take(stream, stride, element, record);
    if (element.name !== 'vertex') continue;
    const { held } = stream;
    sink.vertex(
      numberAt(held, at + x.start, x.type, little),
      numberAt(held, at + y.start, y.type, little),
      numberAt(held, at + z.start, z.type, little),
      record,
    );
  }
}

const BYTE: PlyType = { kind: 'u1', bytes: 1 };

function readFaces(stream: ByteStream, element: PlyElement, taking: Taking): void {
  const places = element.properties.map((property) => ({ property, element, corners: isCorners(property) }));
  const [only, ...others] = places;
  if (only && others.length === 0 && isUsual(only.property)) {
    readUsualFaces(stream, only, taking);
    return;
  }
  for (let record = 1; record <= element.count; record++) {
    for (const place of places) {
      if (place.property.countType) readList(stream, place, record, taking);
      else take(stream, place.property.type.bytes, element, record);
    }
  }
}

/** A byte for the number of corners and four for each, as nearly all files have it. */
const isUsual = ({ type, countType }: PlyProperty): boolean =>
  countType?.kind === 'u1' && (type.kind === 'i4' || type.kind === 'u4');

/** The same as readList, read without asking of every number what type it is: half the time of a whole file went there. */
function readUsualFaces(stream: ByteStream, place: ListPlace, taking: Taking): void {
  const { element, property } = place;
  const { little, sink } = taking;
  const signed = property.type.kind === 'i4';
  for (let record = 1; record <= element.count; record++) {
    const counted = take(stream, 1, element, record);
    const count = stream.held.getUint8(counted);
    if (count !== 3) {
      readItems(stream, place, { count, record }, taking);
      continue;
    }
    const at = take(stream, 12, element, record);
    const { held } = stream;
    const a = held.getUint32(at, little);
    const b = held.getUint32(at + 4, little);
    const c = held.getUint32(at + 8, little);
    // A number below zero has the highest bit.
    if (signed && ((a | b | c) & SIGN) !== 0) for (const vertex of [a, b, c]) checkCorner(vertex | 0, record);
    sink.triangle(a, b, c);
  }
}

const SIGN = 1 << 31;

/** A vertex with a list among its numbers. */
function readMixed(stream: ByteStream, element: PlyElement, record: number, taking: Taking): void {
  const point = [0, 0, 0];
  for (const property of element.properties) {
    if (property.countType) {
      readList(stream, { property, element, corners: false }, record, taking);
      continue;
    }
    const at = take(stream, property.type.bytes, element, record);
    const axis = ['x', 'y', 'z'].indexOf(property.name);
    if (axis >= 0) point[axis] = numberAt(stream.held, at, property.type, taking.little);
  }
  if (element.name === 'vertex') taking.sink.vertex(point[0] ?? 0, point[1] ?? 0, point[2] ?? 0, record);
}

interface ListPlace {
  readonly property: PlyProperty;
  readonly element: PlyElement;
  /** Whether the list names the corners of a face. */
  readonly corners: boolean;
}

function readList(stream: ByteStream, place: ListPlace, record: number, taking: Taking): void {
  const { type, countType = type } = place.property;
  const at = take(stream, countType.bytes, place.element, record);
  const count = numberAt(stream.held, at, countType, taking.little);
  readItems(stream, place, { count, record }, taking);
}

/** Reads the items of a list whose count has been read. */
function readItems(
  stream: ByteStream,
  { property, element, corners }: ListPlace,
  { count, record }: { readonly count: number; readonly record: number },
  { little, sink }: Taking,
): void {
  const { type } = property;
  checkCount(count, element, record, corners);
  const at = take(stream, count * type.bytes, element, record);
  if (!corners) return;
  const { held } = stream;
  const first = checkCorner(numberAt(held, at, type, little), record);
  let last = checkCorner(numberAt(held, at + type.bytes, type, little), record);
  for (let i = 2; i < count; i++) {
    const vertex = checkCorner(numberAt(held, at + i * type.bytes, type, little), record);
    sink.triangle(first, last, vertex);
    last = vertex;
  }
}

function checkCount(count: number, { name }: PlyElement, record: number, corners: boolean): void {
  if (Number.isInteger(count) && count >= (corners ? 3 : 0) && count <= MOST_ITEMS) return;
  const expected = corners ? `3 to ${grouped(MOST_ITEMS)} corners` : `at most ${grouped(MOST_ITEMS)} items`;
  refuse('malformed', `Expected ${expected} in a list of "${name}", record ${grouped(record)} has ${count}.`);
}

function checkCorner(vertex: number, record: number): number {
  if (Number.isInteger(vertex) && vertex >= 0) return vertex;
  return refuse('malformed', `Expected whole vertex numbers from 0, face ${grouped(record)} names ${vertex}.`);
}

function take(stream: ByteStream, bytes: number, { name, count }: PlyElement, record: number): number {
  const at = stream.take(bytes);
  if (at >= 0) return at;
  return refuse(
    'truncated',
    `Expected ${grouped(count)} of "${name}", the file ends in number ${grouped(record)}. Upload it again, or export it again.`,
  );
}

function readAscii(source: Source, header: PlyHeader, sink: MeshSink): void {
  const waiting = header.elements.filter(({ count }) => count > 0);
  let [element, record] = [waiting.shift(), 0];
  eachLine(source, { offset: header.end, firstNumber: header.lines + 1 }, (line) => {
    if (!element) return false;
    record++;
    if (element.name === 'vertex') takeVertexRow(line, element, sink);
    else if (element.name === 'face') takeFaceRow(line, element, sink);
    if (record === element.count) [element, record] = [waiting.shift(), 0];
    return element !== undefined;
  });
  if (element) {
    const got = `${grouped(record)} of ${grouped(element.count)} of "${element.name}"`;
    refuse('truncated', `The file ends after ${got}. Upload it again, or export it again.`);
  }
}

const cursor: Cursor = { at: 0, value: 0 };

function nextNumber(line: Line): number {
  while (cursor.at < line.end && (line.bytes[cursor.at] ?? 0) <= 32) cursor.at++;
  if (cursor.at < line.end && scanNumber(line, PLAIN_ROW.decimal, cursor)) return cursor.value;
  return refuse(
    'malformed',
    `Expected a row of numbers as the PLY header says, line ${grouped(line.number)} is not one.`,
  );
}

function takeVertexRow(line: Line, { properties }: PlyElement, sink: MeshSink): void {
  cursor.at = line.start;
  let x = 0;
  let y = 0;
  let z = 0;
  for (const { name, countType } of properties) {
    const value = nextNumber(line);
    if (countType) for (let i = 0; i < value; i++) nextNumber(line);
    else if (name === 'x') x = value;
    else if (name === 'y') y = value;
    else if (name === 'z') z = value;
  }
  sink.vertex(x, y, z, line.number);
}

function takeFaceRow(line: Line, element: PlyElement, sink: MeshSink): void {
  cursor.at = line.start;
  for (const property of element.properties) {
    const count = nextNumber(line);
    if (!property.countType) continue;
    const corners = isCorners(property);
    checkCount(count, element, line.number, corners);
    let [first, last] = [0, 0];
    for (let i = 0; i < count; i++) {
      const item = nextNumber(line);
      if (!corners) continue;
      const vertex = checkCorner(item, line.number);
      if (i === 0) first = vertex;
      else if (i > 1) sink.triangle(first, last, vertex);
      last = vertex;
    }
  }
}
