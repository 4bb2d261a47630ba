import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseSync } from '@swc/core';

/** A source file of the project and what a meta test asks of it. */
export interface SourceFile {
  readonly path: string;
  readonly text: string;
}

/** TypeScript files under folders, tests and generated code left out unless asked for. */
export function sourceFiles(folders: readonly string[], { tests = false } = {}): readonly SourceFile[] {
  return folders.flatMap((folder) =>
    readdirSync(folder, { recursive: true, encoding: 'utf8' })
      .filter(
        (name) =>
          /\.tsx?$/.test(name) && !name.includes('generated') && (tests || !/\.(test|fixture)\.tsx?$/.test(name)),
      )
      .map((name) => join(folder, name))
      .map((path) => ({ path, text: readFileSync(path, 'utf8') })),
  );
}

/** One node of the syntax tree, with the line it stands on and how many lines it takes. */
export interface Placed {
  readonly node: { readonly type: string } & Readonly<Record<string, unknown>>;
  readonly line: number;
  readonly lines: number;
}

/** Every node of a file. */
export function nodesOf({ path, text }: SourceFile): readonly Placed[] {
  // The parser counts bytes from the first token of the file and goes on counting from one file to the next: a token of our own in
  // front gives a known place to count from.
  const bytes = Buffer.from(`;${text.replace(/^#!/, '//')}`);
  const root = parseSync(bytes.toString(), { syntax: 'typescript', tsx: path.endsWith('x'), target: 'es2022' });
  const found: Placed[] = [];
  const lines = lineOfEach(bytes);
  const lineAt = (offset: number) => lines[offset - root.span.start] ?? 0;
  const visit = (value: unknown): void => {
    if (typeof value !== 'object' || value === null) return;
    if (isNode(value)) {
      const line = lineAt(value.span.start);
      found.push({ node: value, line, lines: lineAt(value.span.end) - line + 1 });
    }
    for (const child of Object.values(value)) visit(child);
  };
  visit(root);
  return found;
}

/** The line of each byte, counted from 1. */
function lineOfEach(bytes: Buffer): Uint32Array {
  const lines = new Uint32Array(bytes.length + 1);
  let line = 1;
  for (let i = 0; i <= bytes.length; i++) {
    lines[i] = line;
    if (bytes[i] === 10) line += 1;
  }
  return lines;
}

interface Spanned {
  readonly type: string;
  readonly span: { readonly start: number; readonly end: number };
  readonly [key: string]: unknown;
}

function isNode(value: object): value is Spanned {
  return 'type' in value && typeof value.type === 'string' && 'span' in value && typeof value.span === 'object';
}
