import { PLAIN_ROW, scanRow } from './number-scan.ts';
import { grouped, refuse } from './problem.ts';
import type { Gathered, SinkOptions } from './sink.ts';
import { Extent, PointSink } from './sink.ts';
import type { Line, Source } from './source.ts';
import { eachLine, eachRecord, headOf } from './source.ts';
import { coverRadius, sampleTriangle } from './surface.ts';

/** Largest distance between neighbouring samples of a surface, metres (own: a quarter of the least clearance anybody asks for). */
export const SAMPLE_EDGE = 0.0015;

const HEADER = 84;
const RECORD = 50;

/** What an STL file held: its surface as points. */
export interface StlScan extends Gathered {
  readonly format: 'stl-binary' | 'stl-ascii';
  readonly triangles: number;
  /** No two neighbouring samples are farther apart than this, metres. */
  readonly spacing: number;
  /** No point of the surface is farther from a sample than this, metres: the most by which a distance may be overstated. */
  readonly cover: number;
}

type Visit = (corners: Float64Array, triangle: number) => void;

/** Bytes a binary STL file with this header must have, or undefined when the file is too short to have one. */
export function binaryStlSize(source: Source): number | undefined {
  const head = headOf(source, HEADER);
  return head.length < HEADER ? undefined : HEADER + RECORD * head.readUInt32LE(80);
}

/** Reads a binary STL file and samples its surface. The header's count is checked against the size before anything else. */
export function readBinaryStl(source: Source, options: SinkOptions): StlScan {
  const promised = binaryStlSize(source);
  if (promised === undefined) {
    refuse('truncated', `Expected a binary STL header of ${HEADER} bytes, the file has ${grouped(source.size)}.`);
  }
  const count = (promised - HEADER) / RECORD;
  if (promised !== source.size) {
    const claim = `The header promises ${grouped(count)} triangles = ${grouped(promised)} bytes`;
    refuse('truncated', `${claim}, the file has ${grouped(source.size)}. Upload it again, or export it again.`);
  }
  if (count === 0) refuse('empty', 'Expected a surface, the STL file has 0 triangles.');
  const corners = new Float64Array(9);
  const each = (visit: Visit): void => {
    eachRecord(source, { offset: HEADER, stride: RECORD, count }, (view, records, first) => {
      for (let i = 0; i < records; i++) {
        for (let k = 0; k < 9; k++) corners[k] = view.getFloat32(RECORD * i + 12 + 4 * k, true);
        visit(corners, first + i + 1);
      }
    });
  };
  return sampleSurface(each, 'stl-binary', options);
}

/** Reads a text STL file and samples its surface. A facet that is not three vertices is refused: the surface would have a hole. */
export function readAsciiStl(source: Source, options: SinkOptions): StlScan {
  return sampleSurface((visit) => eachAsciiTriangle(source, visit), 'stl-ascii', options);
}

function eachAsciiTriangle(source: Source, visit: Visit): void {
  const corners = new Float64Array(9);
  const state = { vertices: 0, triangles: 0, closed: false, line: 0 };
  eachLine(source, { offset: 0, firstNumber: 1 }, (line) => {
    state.line = line.number;
    const word = firstWord(line);
    if (word === 'vertex') takeVertex(line, corners, state.vertices++);
    else if (word === 'endloop') {
      if (state.vertices !== 3)
        refuse('malformed', `Expected 3 vertices before line ${grouped(line.number)}, found ${state.vertices}.`);
      state.vertices = 0;
      visit(corners, ++state.triangles);
    }
    if (word === 'solid' || word === 'endsolid') state.closed = word === 'endsolid';
    return true;
  });
  if (!state.closed || state.vertices > 0) {
    refuse(
      'truncated',
      `Expected "endsolid" at the end, the file ends at line ${grouped(state.line)} after ${grouped(state.triangles)} triangles.`,
    );
  }
  if (state.triangles === 0) refuse('empty', 'Expected a surface, the STL file has 0 triangles.');
}

function firstWord(line: Line): string {
  let at = line.start;
  while (at < line.end && (line.bytes[at] ?? 0) <= 32) at++;
  const from = at;
  while (at < line.end && (line.bytes[at] ?? 0) > 32 && at - from < 10) at++;
  return Buffer.from(line.bytes.subarray(from, at)).toString('latin1').toLowerCase();
}

const VERTEX_ROW = { ...PLAIN_ROW, columns: [1, 2, 3] } as const;
const vertex = new Float64Array(3);

function takeVertex(line: Line, corners: Float64Array, index: number): void {
  if (index > 2 || !scanRow(line, VERTEX_ROW, vertex)) {
    refuse('malformed', `Expected "vertex x y z", three in a facet; line ${grouped(line.number)} is not that.`);
  }
  corners.set(vertex, 3 * index);
}

/** Two passes: the first learns the extents, so that a wrong unit is refused before it turns into a million times the points. */
function sampleSurface(each: (visit: Visit) => void, format: StlScan['format'], options: SinkOptions): StlScan {
  const extent = new Extent();
  let triangles = 0;
  each((c, triangle) => {
    triangles = triangle;
    for (let k = 0; k < 9; k += 3) extent.add(c[k] ?? 0, c[k + 1] ?? 0, c[k + 2] ?? 0, triangle);
  });
  extent.checkWhole('triangle');
  extent.bounds(options.unitFactor);
  const sink = new PointSink(options);
  const edge = SAMPLE_EDGE / options.unitFactor;
  each((corners, triangle) => sampleTriangle(corners, edge, (x, y, z) => sink.add(x, y, z, triangle)));
  return { ...sink.finish('triangle'), format, triangles, spacing: SAMPLE_EDGE, cover: coverRadius(SAMPLE_EDGE) };
}
