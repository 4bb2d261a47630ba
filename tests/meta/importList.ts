import { mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { parseSync } from '@swc/core';

/** Everything a module names in an import: values, types, re-exports, `import()` in code and in types. */
export function importsOf(source: string, { tsx }: { readonly tsx: boolean }): readonly string[] {
  const found = new Set<string>();
  walk(parseSync(source, { syntax: 'typescript', tsx, target: 'es2022' }), found);
  return [...found];
}

function walk(node: unknown, found: Set<string>): void {
  if (typeof node !== 'object' || node === null) return;
  const named = importIn(node);
  if (named !== undefined) found.add(named);
  for (const child of Object.values(node)) walk(child, found);
}

const importIn = (node: object): string | undefined => {
  if (!('type' in node)) return undefined;
  if ('source' in node && /^(Import|Export)/.test(String(node.type))) return text(node.source);
  if (node.type === 'TsImportType' && 'argument' in node) return text(node.argument);
  if (node.type !== 'CallExpression' || !('callee' in node) || !('arguments' in node)) return undefined;
  const { callee, arguments: given } = node;
  const dynamic = typeof callee === 'object' && callee !== null && 'type' in callee && callee.type === 'Import';
  if (!dynamic || !Array.isArray(given)) return undefined;
  return text(given[0]?.expression);
};

const text = (literal: unknown): string | undefined =>
  typeof literal === 'object' &&
  literal !== null &&
  'type' in literal &&
  literal.type === 'StringLiteral' &&
  'value' in literal
    ? String(literal.value)
    : undefined;

/**
 * Writes a copy of the folders in which each module is the bare list of what it imports. dependency-cruiser reads TypeScript by
 * compiling it, which drops type imports; with the compiler of TypeScript 7 it has no other way. Of this copy it sees every edge.
 * @returns how many modules were read
 */
export function mirrorImports(base: string, folders: readonly string[], into: string): number {
  symlinkSync(resolve('node_modules'), join(into, 'node_modules'), 'dir');
  let count = 0;
  for (const folder of folders) {
    for (const name of readdirSync(join(base, folder), { recursive: true, encoding: 'utf8' })) {
      if (!/\.(ts|tsx|css|md|html|mjs)$/.test(name)) continue;
      const from = join(base, folder, name);
      const to = join(into, folder, name);
      mkdirSync(dirname(to), { recursive: true });
      const code = /\.tsx?$/.test(name);
      const imports = code ? importsOf(readFileSync(from, 'utf8'), { tsx: name.endsWith('x') }) : [];
      writeFileSync(to, imports.map((one) => `import ${JSON.stringify(one)};\n`).join(''));
      if (code) count += 1;
    }
  }
  return count;
}
