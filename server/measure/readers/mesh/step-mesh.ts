import start from 'occt-import-js';
import { isClosed } from '../../../../shared/geometry/mesh/edges.ts';
import type { TriangleMesh } from '../../../../shared/geometry/mesh/triangleMesh.ts';
import { VertexJoiner } from '../../../../shared/geometry/mesh/weld.ts';
import { grouped, refuse } from '../problem.ts';
import type { Source } from '../source.ts';
import { headOf } from '../source.ts';
import type { MeshSink } from './mesh-sink.ts';

/** Largest STEP file taken, bytes (own: it is held as a whole, three times over). */
export const MAX_STEP_BYTES = 128 * 1024 ** 2;

/** How finely curved faces are cut: farthest a facet may be from the face, metres, and most that two neighbours may turn, radians. */
export interface FacetTolerance {
  readonly chord: number;
  readonly turn: number;
}

/** Own: a tenth of the tolerance of a printed part, and 60 facets round a tube. */
export const STEP_TOLERANCE: FacetTolerance = { chord: 5e-5, turn: 0.105 };

/** Whether a file is STEP (ISO 10303-21), by its first line. */
export const isStep = (source: Source): boolean =>
  headOf(source, 4096).toString('latin1').trimStart().startsWith('ISO-10303-21');

/** The whole of a STEP file, or a refusal: too large, or cut short. */
export function stepContent(source: Source): Uint8Array {
  if (source.size > MAX_STEP_BYTES) {
    refuse(
      'too-large',
      `Expected a STEP file of at most ${grouped(MAX_STEP_BYTES)} bytes, got ${grouped(source.size)}.`,
    );
  }
  const content = new Uint8Array(source.size);
  source.read(content, 0);
  if (!/END-ISO-10303-21\s*;/.test(Buffer.from(content.subarray(-4096)).toString('latin1'))) {
    refuse('truncated', 'Expected "END-ISO-10303-21;" at the end of the STEP file. Upload it again.');
  }
  return content;
}

/**
 * Reads the solids of a STEP file and cuts their faces into triangles, in metres: the file states its unit. Takes seconds and cannot be
 * stopped from within: run it where it can be killed (pool.ts does).
 * @param content the bytes of the file; exponents in it are written again
 */
export async function readStepMesh(content: Uint8Array, sink: MeshSink, tolerance = STEP_TOLERANCE): Promise<void> {
  raiseExponents(content);
  const importer = await start({ print: () => {}, printErr: () => {} });
  const result = attempt(() =>
    importer.ReadStepFile(content, {
      linearUnit: 'meter',
      linearDeflectionType: 'absolute_value',
      linearDeflection: tolerance.chord,
      angularDeflection: tolerance.turn,
    }),
  );
  if (!result?.success) refuse('malformed', 'Expected a STEP file with solids or faces, it could not be read as that.');
  const bodies = (result.meshes ?? []).map(
    ({ attributes, index }): Body => ({ positions: attributes.position.array, indices: index.array }),
  );
  sink.expect(bodies.reduce((sum, { indices }) => sum + indices.length / 3, 0));
  addBodies(bodies, sink);
}

const [POINT, PLUS, MINUS, SMALL_E, LARGE_E] = [0x2e, 0x2b, 0x2d, 0x65, 0x45];
const isDigit = (byte: number): boolean => byte >= 0x30 && byte <= 0x39;

/**
 * Writes every exponent with the large letter that the standard asks for. The importer does not refuse a small one, it reads 6.1e-17 as 6.1
 * and moves the part. In names nobody sees the change.
 */
function raiseExponents(content: Uint8Array): void {
  for (let at = content.indexOf(SMALL_E); at > 0; at = content.indexOf(SMALL_E, at + 1)) {
    const [before = 0, after = 0] = [content[at - 1], content[at + 1]];
    const signed = after === PLUS || after === MINUS;
    if ((isDigit(before) || before === POINT) && (signed || isDigit(after))) content[at] = LARGE_E;
  }
}

/** The importer throws numbers and its own errors on some broken files: to the reader they are all one. */
function attempt<T>(read: () => T): T | undefined {
  try {
    return read();
  } catch {
    return undefined;
  }
}

/** A body as the importer gives it: every face has its own vertices. */
interface Body {
  readonly positions: readonly number[];
  readonly indices: readonly number[];
}

/**
 * Adds bodies with equal vertices joined, but those of two bodies only where neither is closed for itself: parts of an assembly that touch stay
 * parts, and a surface that comes face by face becomes one.
 */
function addBodies(bodies: readonly Body[], sink: MeshSink): void {
  const open: Body[] = [];
  for (const body of bodies) {
    const joined = joinedBodies([body]);
    if (isClosed(joined)) addJoined(joined, sink);
    else open.push(body);
  }
  addJoined(joinedBodies(open), sink);
}

function joinedBodies(bodies: readonly Body[]): TriangleMesh {
  const joiner = new VertexJoiner();
  const indices = bodies.flatMap(({ positions, indices }) =>
    indices.map((corner) => {
      const o = 3 * corner;
      return joiner.add(positions[o] ?? 0, positions[o + 1] ?? 0, positions[o + 2] ?? 0);
    }),
  );
  return { positions: joiner.joined(), indices: Uint32Array.from(indices) };
}

function addJoined({ positions, indices }: TriangleMesh, sink: MeshSink): void {
  const first = sink.vertexCount;
  for (let o = 0; o + 2 < positions.length; o += 3)
    sink.vertex(positions[o] ?? 0, positions[o + 1] ?? 0, positions[o + 2] ?? 0, o / 3 + 1);
  for (let i = 0; i + 2 < indices.length; i += 3)
    sink.triangle(first + (indices[i] ?? 0), first + (indices[i + 1] ?? 0), first + (indices[i + 2] ?? 0));
}
