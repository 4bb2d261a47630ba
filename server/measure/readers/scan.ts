import { readE57 } from './e57.ts';
import { readLas } from './las.ts';
import { isPackedLas } from './las-header.ts';
import { readyUnpacker } from './laz.ts';
import { readPly } from './ply.ts';
import type { ReadProblem } from './problem.ts';
import { grouped, ReadFailure, refuse } from './problem.ts';
import type { Gathered } from './sink.ts';
import { MAX_POINTS } from './sink.ts';
import type { Source } from './source.ts';
import { headOf, withSource } from './source.ts';
import { binaryStlSize, readAsciiStl, readBinaryStl } from './stl.ts';
import type { SkippedLine } from './text.ts';
import { readText } from './text.ts';

/** How a scan file was written. */
export type ScanFormat =
  | 'ply-ascii'
  | 'ply-binary-le'
  | 'ply-binary-be'
  | 'text'
  | 'stl-binary'
  | 'stl-ascii'
  | 'las'
  | 'laz'
  | 'e57';

/** A scan as read: points in metres relative to `origin`, and what the file was like. */
export interface ReadScan extends Gathered {
  readonly format: ScanFormat;
  /** Lines of a text scan that hold no point. */
  readonly skipped?: number;
  readonly firstSkipped?: SkippedLine;
  /** For a surface: its triangles, the distance between its samples and the most a surface point is from one; metres. */
  readonly triangles?: number;
  readonly spacing?: number;
  readonly cover?: number;
}

/** How to read: metres in one unit of the file, and a lower limit of points than MAX_POINTS if wanted. */
export interface ReadOptions {
  readonly unitFactor: number;
  readonly maxPoints?: number;
}

/** The scan, or why it was refused. */
export type ReadOutcome =
  | { readonly ok: true; readonly scan: ReadScan }
  | { readonly ok: false; readonly problem: ReadProblem };

/**
 * Reads a scan from a file, whatever its name ends with: the content says what it is. Reads in chunks and blocks the thread meanwhile.
 * Whatever is wrong with the file comes back as a problem. A compressed scan (LAZ) is refused: readAnyScan reads it.
 */
export function readScan(path: string, { unitFactor, maxPoints = MAX_POINTS }: ReadOptions): ReadOutcome {
  try {
    if (!(unitFactor > 0) || !Number.isFinite(unitFactor)) {
      refuse('unsupported', `Expected a unit as metres per file unit above 0, got ${unitFactor}.`);
    }
    const scan = withSource(path, (source) => READERS[detect(source)](source, { unitFactor, maxPoints }));
    return { ok: true, scan };
  } catch (error) {
    if (error instanceof ReadFailure) return { ok: false, problem: error.problem };
    throw error;
  }
}

const READERS = {
  ply: readPly,
  text: readText,
  'stl-binary': readBinaryStl,
  'stl-ascii': readAsciiStl,
  las: readLas,
  e57: readE57,
} as const;

/** Reads a scan as readScan does, compressed ones (LAZ) too: their unpacker has to be started first. */
export async function readAnyScan(path: string, options: ReadOptions): Promise<ReadOutcome> {
  if (isPackedFile(path)) await readyUnpacker();
  return readScan(path, options);
}

/** What is wrong with a file is for its reading to say. */
function isPackedFile(path: string): boolean {
  try {
    return withSource(path, isPackedLas);
  } catch (error) {
    if (error instanceof ReadFailure) return false;
    throw error;
  }
}

/** Beginnings of formats that are known but not read here, so that the message can name them. */
const OTHERS: readonly (readonly [string, string])[] = [
  ['PK\u0003\u0004', 'a ZIP archive (or 3MF)'],
  ['\u001f\u008b', 'a gzip archive'],
  ['glTF', 'binary glTF'],
  ['ISO-10303-21', 'STEP'],
  ['%PDF', 'PDF'],
  ['\u0089PNG', 'a PNG picture'],
];

const READABLE = 'PLY, STL, LAS, LAZ, E57 or rows of x y z text (XYZ, ASC, PTS, CSV)';
const PROBE = 4096;

/** Says by content what a file is. "solid" at the start does not make an STL file text: some binary ones begin with it too. */
export function detect(source: Source): keyof typeof READERS {
  const head = headOf(source, PROBE);
  const text = head.toString('latin1');
  if (/^ply[ \t]*[\r\n]/.test(text)) return 'ply';
  if (text.startsWith('LASF')) return 'las';
  if (text.startsWith('ASTM-E57')) return 'e57';
  if (binaryStlSize(source) === source.size) return 'stl-binary';
  const other = OTHERS.find(([magic]) => text.startsWith(magic));
  if (other) refuse('unsupported', `Expected ${READABLE}, got ${other[1]}. Export the scan in one of those.`);
  if (looksLikeText(head)) {
    return /^\s*solid\b/i.test(text) && /\bfacet\s+normal\b|\bendsolid\b/i.test(text) ? 'stl-ascii' : 'text';
  }
  // A text header, padding and then a count that does not fit the size: a binary STL file that lost its end.
  const title = head.subarray(0, 80).filter((byte) => byte !== 0);
  if (head.length >= 84 && head[0] !== 0 && looksLikeText(title)) return 'stl-binary';
  return refuse('unknown-format', `Expected ${READABLE}, got ${grouped(source.size)} bytes of something else.`);
}

function looksLikeText(bytes: Uint8Array): boolean {
  // UTF-16 is text too; its reader says so in words.
  if ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff)) return true;
  let control = 0;
  for (const byte of bytes) if (byte < 9 || (byte > 13 && byte < 32) || byte === 127) control++;
  return control === 0;
}
