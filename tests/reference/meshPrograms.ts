import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/*
 * Independent programs that read mesh files (Debian: admesh, assimp-utils, lib3mf1 by way of python3; `npm test` installs them there as
 * root). Files pass through a folder that is taken away again.
 */

/** A program of the machine, found by what it says of its version. */
export interface MeshProgram {
  readonly name: string;
  readonly here: boolean;
}

function program(command: string, args: readonly string[], version: RegExp): MeshProgram {
  const { status, stdout } = spawnSync(command, args, { encoding: 'utf8' });
  const found = version.exec(stdout ?? '');
  return status === 0 && found
    ? { name: `${command} ${found[1]}`, here: true }
    : { name: `${command} (not installed)`, here: false };
}

export const admesh = program('admesh', ['--version'], /version (\S+)/);
export const assimp = program('assimp', ['version'], /Version (\S+)/);
const read3mf = fileURLToPath(new URL('read3mf.py', import.meta.url));
/** The library of those who write the 3MF standard. */
export const lib3mf: MeshProgram =
  spawnSync('/usr/bin/python3', [read3mf]).status === 0
    ? { name: 'lib3mf 1', here: true }
    : { name: 'lib3mf (not installed)', here: false };
/** Both: what the one has read, weighed by the other. */
export const both: MeshProgram = { name: `${assimp.name}, ${admesh.name}`, here: admesh.here && assimp.here };

/** What admesh finds in an STL file. Lengths in units of the file. */
export interface AdmeshFindings {
  readonly volume: number;
  readonly parts: number;
  readonly facets: number;
  /** Facets with an edge that no other facet shares exactly. */
  readonly disconnected: number;
  readonly degenerate: number;
  /** Facets it would turn round to agree with their neighbours. */
  readonly reversed: number;
  /** Facets it puts into holes. */
  readonly added: number;
  readonly least: readonly number[];
  readonly greatest: readonly number[];
}

/** Lets admesh read an STL file, scaled before it is weighed. Its sums are singles. */
export function admeshReads(stl: Uint8Array, scale = 1): AdmeshFindings {
  return withFiles([['part.stl', stl]], (at) => admeshFindings(at('part.stl'), scale));
}

/** Lets admesh fill the holes of an STL file: what it writes then, binary. */
export function filledByAdmesh(stl: Uint8Array): Uint8Array {
  return withFiles([['part.stl', stl]], (at) => {
    printed('admesh', [`--write-binary-stl=${at('filled.stl')}`, at('part.stl')]);
    return readFileSync(at('filled.stl'));
  });
}

/** Triangles with an edge that no other shares: what admesh counts as disconnected. */
export function facetsAtOpenEdges({ indices }: { readonly indices: Uint32Array }): number {
  const uses = new Map<string, number[]>();
  for (const [i, from] of indices.entries()) {
    const to = indices[i % 3 === 2 ? i - 2 : i + 1] ?? 0;
    const edge = from < to ? `${from} ${to}` : `${to} ${from}`;
    const facet = Math.floor(i / 3);
    const others = uses.get(edge);
    if (others) others.push(facet);
    else uses.set(edge, [facet]);
  }
  return new Set(Array.from(uses.values()).flatMap((facets) => (facets.length === 1 ? facets : []))).size;
}

function admeshFindings(path: string, scale: number): AdmeshFindings {
  const text = printed('admesh', [`--scale=${scale}`, path]);
  const number = (label: string): number => numberIn(text, new RegExp(`${label}\\s*[:=]\\s*(-?[\\d.]+)`));
  return {
    volume: number('Volume'),
    parts: number('Number of parts'),
    facets: number('Number of facets'),
    disconnected: number('Total disconnected facets'),
    degenerate: number('Degenerate facets'),
    reversed: number('Facets reversed'),
    added: number('Facets added'),
    least: ['X', 'Y', 'Z'].map((axis) => number(`Min ${axis}`)),
    greatest: ['X', 'Y', 'Z'].map((axis) => number(`Max ${axis}`)),
  };
}

/** What assimp finds in a file. Lengths in units of the file. */
export interface AssimpFindings {
  readonly meshes: number;
  readonly vertices: number;
  readonly faces: number;
  readonly primitives: string;
  readonly least: readonly number[];
  readonly greatest: readonly number[];
}

/** Lets assimp read a file as what its ending says, and lets it refuse. */
export function assimpReads(bytes: Uint8Array, ending: string): AssimpFindings {
  return withFiles([[`part.${ending}`, bytes]], (at) => {
    const text = printed('assimp', ['info', at(`part.${ending}`)]);
    const number = (label: string): number => numberIn(text, new RegExp(`^${label}:\\s*(\\d+)`, 'm'));
    const point = (label: string): readonly number[] =>
      (new RegExp(`^${label} point\\s*\\((.*)\\)`, 'm').exec(text)?.[1] ?? '').split(' ').map(Number);
    return {
      meshes: number('Meshes'),
      vertices: number('Vertices'),
      faces: number('Faces'),
      primitives: /^Primitive Types:\s*(.*)$/m.exec(text)?.[1]?.trim() ?? '',
      least: point('Minimum'),
      greatest: point('Maximum'),
    };
  });
}

/** What lib3mf finds in a 3MF file, read strictly. */
export interface ThreeMfFindings {
  readonly warnings: number;
  /** As the library counts them: micrometres are 0, millimetres 1. */
  readonly unit: number;
  readonly meshes: readonly { readonly vertices: number; readonly triangles: number; readonly closed: boolean }[];
}

/** Lets lib3mf read a file, and lets it refuse. */
export function lib3mfReads(bytes: Uint8Array): ThreeMfFindings {
  return withFiles([['part.3mf', bytes]], (at) => JSON.parse(printed('/usr/bin/python3', [read3mf, at('part.3mf')])));
}

/** Lets assimp write what it has read as STL, and admesh weigh that. */
export function weighedAfterAssimp(bytes: Uint8Array, ending: string, scale = 1): AdmeshFindings {
  return withFiles([[`part.${ending}`, bytes]], (at) => {
    printed('assimp', ['export', at(`part.${ending}`), at('again.stl'), '-f', 'stlb']);
    return admeshFindings(at('again.stl'), scale);
  });
}

function withFiles<T>(files: readonly (readonly [string, Uint8Array])[], use: (at: (name: string) => string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'slipjoint-judge-'));
  try {
    for (const [name, bytes] of files) writeFileSync(join(folder, name), bytes);
    return use((name) => join(folder, name));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function printed(command: string, args: readonly string[]): string {
  const { status, stdout, stderr } = spawnSync(command, args, { encoding: 'utf8', maxBuffer: 1e8 });
  if (status !== 0) throw new Error(`${command} failed: ${stderr || stdout}`);
  return stdout;
}

function numberIn(text: string, where: RegExp): number {
  const found = where.exec(text)?.[1];
  if (found === undefined) throw new Error(`expected ${where} in what the judge printed, got ${text.slice(-2000)}`);
  return Number(found);
}
