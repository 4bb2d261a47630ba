import type { TriangleMesh } from '../../../../shared/geometry/mesh/triangleMesh.ts';
import type { ReadProblem } from '../problem.ts';
import { grouped, ReadFailure, refuse } from '../problem.ts';
import type { Source } from '../source.ts';
import { headOf, withSource } from '../source.ts';
import { binaryStlSize } from '../stl.ts';
import { read3mfMesh } from './3mf-mesh.ts';
import { readGlbMesh } from './glb-mesh.ts';
import { MAX_TRIANGLES, MeshSink } from './mesh-sink.ts';
import { readObjMesh } from './obj-mesh.ts';
import { readPlyMesh } from './ply-mesh.ts';
import type { FacetTolerance } from './step-mesh.ts';
import { isStep, readStepMesh, stepContent } from './step-mesh.ts';
import { readAsciiStlMesh, readBinaryStlMesh } from './stl-mesh.ts';

/** How a mesh file was written. */
export type MeshFormat =
  | 'stl-binary'
  | 'stl-ascii'
  | 'ply-ascii'
  | 'ply-binary-le'
  | 'ply-binary-be'
  | 'obj'
  | '3mf'
  | 'glb'
  | 'step';

/** How to read: metres in one unit of the file where the file does not say (3MF, GLB and STEP do), and a lower limit than MAX_TRIANGLES. */
export interface MeshReadOptions {
  readonly unitFactor: number;
  readonly maxTriangles?: number;
  /** How finely a STEP file is cut into facets. */
  readonly tolerance?: FacetTolerance;
}

/** A mesh as read, metres. Equal vertices of formats that repeat them (STL, GLB, STEP) have been joined; nothing else was changed. */
export interface ReadMesh {
  readonly mesh: TriangleMesh;
  readonly format: MeshFormat;
  /** Metres in one unit of the file, as used. */
  readonly unitFactor: number;
  /** Whether the file itself states that unit. */
  readonly unitStated: boolean;
}

/** The mesh, or why it was refused. */
export type MeshOutcome =
  | { readonly ok: true; readonly read: ReadMesh }
  | { readonly ok: false; readonly problem: ReadProblem };

/**
 * Reads a mesh from a file, whatever its name ends with: the content says what it is. Reads in chunks and blocks the thread meanwhile.
 * Whatever is wrong with the file comes back as a problem. STEP is refused: readAnyMesh reads it.
 */
export function readMesh(path: string, options: MeshReadOptions): MeshOutcome {
  try {
    checkOptions(options);
    return { ok: true, read: withSource(path, (source) => readSource(source, options)) };
  } catch (error) {
    return { ok: false, problem: problemOf(error) };
  }
}

/** Reads a mesh as readMesh does, STEP too. Reading STEP cannot be stopped from within: for a worker that can be killed. */
export async function readAnyMesh(path: string, options: MeshReadOptions): Promise<MeshOutcome> {
  try {
    const content = withSource(path, (source) => (isStep(source) ? stepContent(source) : undefined));
    if (!content) return readMesh(path, options);
    const sink = sinkFor(options);
    await readStepMesh(content, sink, options.tolerance);
    return { ok: true, read: { mesh: sink.finish('vertex', 1), format: 'step', unitFactor: 1, unitStated: true } };
  } catch (error) {
    return { ok: false, problem: problemOf(error) };
  }
}

/** What is no problem of the file is a bug and goes on. The readers shared with scans speak of scans. */
function problemOf(error: unknown): ReadProblem {
  if (!(error instanceof ReadFailure)) throw error;
  const { code, message } = error.problem;
  return {
    code,
    message: message.replace(/^Expected a scan\b/, 'Expected a mesh').replace(/^The scan file\b/, 'The mesh file'),
  };
}

function checkOptions({ unitFactor }: MeshReadOptions): void {
  if (unitFactor > 0 && Number.isFinite(unitFactor)) return;
  refuse('unsupported', `Expected a unit as metres per file unit above 0, got ${unitFactor}.`);
}

const sinkFor = ({ unitFactor, maxTriangles = MAX_TRIANGLES }: MeshReadOptions): MeshSink =>
  new MeshSink({ unitFactor, maxTriangles });

function readSource(source: Source, options: MeshReadOptions): ReadMesh {
  const sink = sinkFor(options);
  const format = detect(source);
  const { unitFactor } = options;
  const unstated = (place: string, as: MeshFormat): ReadMesh => ({
    mesh: sink.finish(place),
    format: as,
    unitFactor,
    unitStated: false,
  });
  switch (format) {
    case 'stl-binary':
      readBinaryStlMesh(source, sink);
      return unstated('triangle', format);
    case 'stl-ascii':
      readAsciiStlMesh(source, sink);
      return unstated('line', format);
    case 'ply': {
      const written = readPlyMesh(source, sink);
      return unstated(written === 'ply-ascii' ? 'line' : 'vertex', written);
    }
    case 'obj':
      readObjMesh(source, sink);
      return unstated('line', format);
    case '3mf': {
      const stated = read3mfMesh(source, sink);
      return { mesh: sink.finish('vertex', stated), format, unitFactor: stated, unitStated: true };
    }
    case 'glb':
      readGlbMesh(source, sink);
      return { mesh: sink.finish('vertex', 1), format, unitFactor: 1, unitStated: true };
    case 'step':
      return refuse('unsupported', 'Expected a mesh to read at once, got STEP, which is read in a worker of its own.');
  }
}

type Detected = Exclude<MeshFormat, 'ply-ascii' | 'ply-binary-le' | 'ply-binary-be'> | 'ply';

/** Beginnings of formats that are known but not read here, so that the message can name them. */
const OTHERS: readonly (readonly [string, string])[] = [
  ['LASF', 'LAS or LAZ, which is a scan'],
  ['ASTM-E57', 'E57, which is a scan'],
  ['\u001f\u008b', 'a gzip archive'],
  ['%PDF', 'PDF'],
  ['\u0089PNG', 'a PNG picture'],
  ['{', 'JSON (glTF in two files? export it as one GLB file)'],
  ['<', 'XML'],
];
const READABLE = 'STL, PLY, OBJ, 3MF, GLB or STEP';
const PROBE = 1 << 16;

/** Says by content what a file is. "solid" at the start does not make an STL file text: some binary ones begin with it too. */
function detect(source: Source): Detected {
  const head = headOf(source, PROBE);
  const text = head.toString('latin1');
  if (/^ply[ \t]*[\r\n]/.test(text)) return 'ply';
  if (binaryStlSize(source) === source.size) return 'stl-binary';
  if (text.startsWith('glTF')) return 'glb';
  if (text.startsWith('PK\u0003\u0004')) return '3mf';
  if (isStep(source)) return 'step';
  const other = OTHERS.find(([magic]) => text.startsWith(magic));
  if (other) refuse('unsupported', `Expected ${READABLE}, got ${other[1]}.`);
  if (!text.slice(0, 4096).includes('\u0000')) {
    if (/^\s*solid\b/i.test(text)) return 'stl-ascii';
    if (/^[ \t]*v[ \t]+[-+.\d]/m.test(text)) return 'obj';
  } else if (head.length >= 84 && looksLikeTitle(head.subarray(0, 80))) return 'stl-binary';
  return refuse('unknown-format', `Expected ${READABLE}, got ${grouped(source.size)} bytes of something else.`);
}

/** A text header, padding and then a count that does not fit the size: a binary STL file that lost its end. */
function looksLikeTitle(title: Uint8Array): boolean {
  return title[0] !== 0 && title.every((byte) => byte === 0 || (byte >= 32 && byte < 127));
}
