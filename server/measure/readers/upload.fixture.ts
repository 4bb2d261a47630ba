import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';
import type { ReadProblem } from './problem.ts';
import type { ReadOptions, ReadScan } from './scan.ts';
import { readScan } from './scan.ts';

/** A folder of the test file that imports this, gone when it ends. */
export const folder = mkdtempSync(join(tmpdir(), 'scan-'));
afterAll(() => rmSync(folder, { recursive: true }));

let files = 0;

/** Writes an upload, with a name that says nothing. */
export function written(content: string | Uint8Array): string {
  const path = join(folder, `upload-${files++}`);
  writeFileSync(path, content);
  return path;
}

export const MM: ReadOptions = { unitFactor: 0.001 };

/** The scan in an upload; throws when it was refused. */
export function read(content: string | Uint8Array, options = MM): ReadScan {
  const outcome = readScan(written(content), options);
  if (!outcome.ok) throw new Error(outcome.problem.message);
  return outcome.scan;
}

/** Points as read, back in file units, to four decimals. */
export function inFile(scan: ReadScan, unitFactor = 0.001): number[] {
  return Array.from(scan.points, (x, i) => Math.round(((x + (scan.origin[i % 3] ?? 0)) / unitFactor) * 1e4) / 1e4);
}

/** Why an upload was refused; throws when it was read. */
export function problemOf(content: string | Uint8Array, options = MM): ReadProblem {
  const outcome = readScan(written(content), options);
  if (outcome.ok) throw new Error(`expected a refusal, read ${outcome.scan.count} points`);
  return outcome.problem;
}

/** Four points in millimetres that every format can hold exactly. */
export const POINTS = [0, 0, 0, 100.5, 0, 0, 0, 200.25, 0, -50, 20, 300];

/** A closed box of twelve triangles, 100 x 60 x 40. */
export function boxTriangles(): number[][] {
  const corner = (i: number) => [i & 1 ? 100 : 0, i & 2 ? 60 : 0, i & 4 ? 40 : 0];
  const quads = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ];
  return quads.flatMap(([a = 0, b = 0, c = 0, d = 0]) => [
    [...corner(a), ...corner(b), ...corner(c)],
    [...corner(a), ...corner(c), ...corner(d)],
  ]);
}

/** A binary STL file; its title begins as a text one would. */
export function binaryStl(triangles: readonly (readonly number[])[], title = 'solid misleading'): Buffer {
  const file = Buffer.alloc(84 + 50 * triangles.length);
  file.write(title, 'latin1');
  file.writeUInt32LE(triangles.length, 80);
  for (const [i, corners] of triangles.entries())
    for (const [k, x] of corners.entries()) file.writeFloatLE(x, 84 + 50 * i + 12 + 4 * k);
  return file;
}

/** A text STL file. */
export function asciiStl(triangles: readonly (readonly number[])[]): string {
  const facets = triangles.map((t) => {
    const vertices = [0, 3, 6].map((k) => `      vertex ${t.slice(k, k + 3).join(' ')}`);
    return `  facet normal 0 0 0\n    outer loop\n${vertices.join('\n')}\n    endloop\n  endfacet`;
  });
  return `solid box\n${facets.join('\n')}\nendsolid box\n`;
}
