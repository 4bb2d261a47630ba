import type { Cursor } from '../number-scan.ts';
import { PLAIN_ROW, scanNumber } from '../number-scan.ts';
import { grouped, refuse } from '../problem.ts';
import type { Line, Source } from '../source.ts';
import { eachLine, eachRecord } from '../source.ts';
import { binaryStlSize } from '../stl.ts';
import type { MeshSink } from './mesh-sink.ts';

const HEADER = 84;
const RECORD = 50;

/** Reads the triangles of a binary STL file. Its count is checked against the size before anything else; stated normals are not used. */
export function readBinaryStlMesh(source: Source, sink: MeshSink): void {
  const promised = binaryStlSize(source);
  if (promised === undefined) {
    refuse('truncated', `Expected a binary STL header of ${HEADER} bytes, the file has ${grouped(source.size)}.`);
  }
  const count = (promised - HEADER) / RECORD;
  if (promised !== source.size) {
    const claim = `The header promises ${grouped(count)} triangles = ${grouped(promised)} bytes`;
    refuse('truncated', `${claim}, the file has ${grouped(source.size)}. Upload it again, or export it again.`);
  }
  sink.expect(count);
  sink.reserve(count);
  eachRecord(source, { offset: HEADER, stride: RECORD, count }, (view, records, first) => {
    for (let i = 0; i < records; i++) {
      const o = RECORD * i + 12;
      sink.triangle(
        cornerIn(view, o, sink, first + i + 1),
        cornerIn(view, o + 12, sink, first + i + 1),
        cornerIn(view, o + 24, sink, first + i + 1),
      );
    }
  });
}

const cornerIn = (view: DataView, o: number, sink: MeshSink, place: number): number =>
  sink.corner(view.getFloat32(o, true), view.getFloat32(o + 4, true), view.getFloat32(o + 8, true), place);

/** First letters of `vertex` and of the words that end something; the words of STL are written in either case. */
const [V, E] = ['v'.charCodeAt(0), 'e'.charCodeAt(0)];
const [END_LOOP, END_FACET, END_SOLID] = ['endloop', 'endfacet', 'endsolid'].map((word) => Buffer.from(word));

/** Reads the triangles of a text STL file. A facet that is not three vertices is refused: the surface would have a hole. */
export function readAsciiStlMesh(source: Source, sink: MeshSink): void {
  const corners = [0, 0, 0];
  const point = new Float64Array(3);
  const state = { vertices: 0, closed: false, line: 0 };
  eachLine(source, { offset: 0, firstNumber: 1 }, (line) => {
    state.line = line.number;
    const at = firstAt(line);
    const letter = (line.bytes[at] ?? 0) | SMALL;
    if (letter === V) {
      if (state.vertices > 2 || !scanVertex(line, at, point)) refuseVertex(line);
      corners[state.vertices++] = sink.corner(point[0] ?? 0, point[1] ?? 0, point[2] ?? 0, line.number);
      return true;
    }
    if (letter !== E) return true;
    if (isWord(line, at, END_LOOP)) {
      if (state.vertices !== 3) refuseFacet(line, state.vertices);
      state.vertices = 0;
      sink.triangle(corners[0] ?? 0, corners[1] ?? 0, corners[2] ?? 0);
    }
    state.closed = isWord(line, at, END_SOLID) || (state.closed && !isWord(line, at, END_FACET));
    return true;
  });
  if (!state.closed || state.vertices > 0) {
    const came = `the file ends at line ${grouped(state.line)} after ${grouped(sink.triangleCount)} triangles`;
    refuse('truncated', `Expected "endsolid" at the end, ${came}.`);
  }
}

const cursor: Cursor = { at: 0, value: 0 };

/** Reads the three numbers behind the first word of a line; false when they are not there. */
function scanVertex(line: Line, from: number, point: Float64Array): boolean {
  const { bytes, end } = line;
  cursor.at = from;
  while (cursor.at < end && (bytes[cursor.at] ?? 0) > 32) cursor.at++;
  for (let axis = 0; axis < 3; axis++) {
    while (cursor.at < end && (bytes[cursor.at] ?? 0) <= 32) cursor.at++;
    if (cursor.at >= end || !scanNumber(line, PLAIN_ROW.decimal, cursor)) return false;
    point[axis] = cursor.value;
  }
  return true;
}

function refuseVertex(line: Line): never {
  return refuse('malformed', `Expected "vertex x y z", three in a facet; line ${grouped(line.number)} is not that.`);
}

function refuseFacet(line: Line, vertices: number): never {
  return refuse('malformed', `Expected 3 vertices before line ${grouped(line.number)}, found ${vertices}.`);
}

function firstAt({ bytes, start, end }: Line): number {
  let at = start;
  while (at < end && (bytes[at] ?? 0) <= 32) at++;
  return at;
}

/** The bit that makes a letter small. */
const SMALL = 32;

/** Whether a whole word stands at an offset. Bytes are compared as they lie: a string a line would cost more than its numbers. */
function isWord({ bytes, end }: Line, at: number, word: Uint8Array | undefined): boolean {
  const length = word?.length ?? 0;
  if (at + length > end || (at + length < end && (bytes[at + length] ?? 0) > 32)) return false;
  for (let i = 0; i < length; i++) if (((bytes[at + i] ?? 0) | SMALL) !== word?.[i]) return false;
  return true;
}
