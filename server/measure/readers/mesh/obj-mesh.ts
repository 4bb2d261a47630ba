import type { Cursor } from '../number-scan.ts';
import { PLAIN_ROW, scanNumber, scanRow } from '../number-scan.ts';
import { grouped, refuse } from '../problem.ts';
import type { Line, Source } from '../source.ts';
import { eachLine } from '../source.ts';
import type { MeshSink } from './mesh-sink.ts';

const [V, F, BACKSLASH] = ['v', 'f', '\\'].map((letter) => letter.charCodeAt(0));
const VERTEX_ROW = { ...PLAIN_ROW, columns: [1, 2, 3] } as const;
/** Corners of one face looked at (own: a polygon of a thousand sides is a circle). */
const MOST_CORNERS = 10_000;

/**
 * Reads vertices and faces of an OBJ file; groups, normals, textures and materials are passed over. Faces of more than three corners are
 * cut into a fan from their first, which is right for convex ones; the mesh report finds what another became.
 */
export function readObjMesh(source: Source, sink: MeshSink): void {
  const point = new Float64Array(3);
  eachLine(source, { offset: 0, firstNumber: 1 }, (line) => {
    let at = line.start;
    while (at < line.end && (line.bytes[at] ?? 0) <= 32) at++;
    const letter = line.bytes[at];
    if ((letter !== V && letter !== F) || at + 1 >= line.end || (line.bytes[at + 1] ?? 0) > 32) return true;
    if (line.bytes[line.end - 1] === BACKSLASH || line.bytes[line.end - 2] === BACKSLASH) {
      refuse('unsupported', `Expected one line a vertex or face, line ${grouped(line.number)} goes on in the next.`);
    }
    if (letter === F) takeFace(line, at + 1, sink);
    else if (scanRow(line, VERTEX_ROW, point)) sink.vertex(point[0] ?? 0, point[1] ?? 0, point[2] ?? 0, line.number);
    else refuse('malformed', `Expected "v x y z", line ${grouped(line.number)} is not that.`);
    return true;
  });
}

const cursor: Cursor = { at: 0, value: 0 };

function takeFace(line: Line, from: number, sink: MeshSink): void {
  let [corners, first, last] = [0, 0, 0];
  for (cursor.at = from; ; corners++) {
    while (cursor.at < line.end && (line.bytes[cursor.at] ?? 0) <= 32) cursor.at++;
    if (cursor.at >= line.end) break;
    if (corners >= MOST_CORNERS) refuse('unsupported', `Expected faces of at most ${grouped(MOST_CORNERS)} corners.`);
    const vertex = takeCorner(line, sink);
    if (corners === 0) first = vertex;
    else if (corners > 1) sink.triangle(first, last, vertex);
    last = vertex;
  }
  if (corners < 3) {
    refuse('malformed', `Expected faces of 3 corners or more, line ${grouped(line.number)} has ${corners}.`);
  }
}

const SLASH = '/'.charCodeAt(0);

/** One `vertex/texture/normal`; the vertex counts from 1, or backwards from the last with a minus. */
function takeCorner(line: Line, sink: MeshSink): number {
  let end = cursor.at;
  while (end < line.end && (line.bytes[end] ?? 0) > 32 && line.bytes[end] !== SLASH) end++;
  const isNumber = end > cursor.at && scanNumber({ bytes: line.bytes, end }, PLAIN_ROW.decimal, cursor);
  const number = cursor.value;
  if (!isNumber || !Number.isInteger(number) || number === 0) {
    const came = Buffer.from(line.bytes.subarray(line.start, Math.min(line.end, line.start + 40))).toString('latin1');
    refuse('malformed', `Expected whole vertex numbers from 1 or below 0, line ${grouped(line.number)} is "${came}".`);
  }
  cursor.at = end;
  while (cursor.at < line.end && (line.bytes[cursor.at] ?? 0) > 32) cursor.at++;
  const vertex = number > 0 ? number - 1 : sink.vertexCount + number;
  if (vertex < 0 || vertex >= 2 ** 32) {
    const came = `line ${grouped(line.number)} names ${number}`;
    refuse('malformed', `Expected vertex numbers of the ${grouped(sink.vertexCount)} vertices so far, ${came}.`);
  }
  return vertex;
}
