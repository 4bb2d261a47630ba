import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { newRule } from '../scaffold/newRule.ts';

/** A copy of what a rule's tests need. */
const top = mkdtempSync(join(tmpdir(), 'slipjoint-rule-'));
const vitest = resolve('node_modules/vitest/vitest.mjs');

beforeAll(() => {
  for (const folder of ['shared', 'tests/support', 'tests/meta', 'tests/scaffold'])
    cpSync(folder, join(top, folder), { recursive: true });
  for (const file of ['tsconfig.json', 'package.json', 'tests/vitest.config.ts']) cpSync(file, join(top, file));
  for (const folder of ['node_modules', '.config']) symlinkSync(resolve(folder), join(top, folder), 'dir');
});
afterAll(() => rmSync(top, { recursive: true, force: true }));

function runTests(...files: readonly string[]): { readonly code: number | null; readonly text: string } {
  const run = spawnSync(process.execPath, [vitest, 'run', '--config', 'tests/vitest.config.ts', ...files], {
    cwd: top,
    encoding: 'utf8',
  });
  return { code: run.status, text: run.stdout + run.stderr };
}

describe('a scaffolded rule', () => {
  it('is registered in order, and its tests fail until it is filled in', () => {
    expect(newRule(top, 'weld/zinc-trace')).toBeNull();
    const registry = readFileSync(join(top, 'shared/rules/registry.ts'), 'utf8');
    expect(registry).toMatch(
      /import \{ \w+ \} from '\.\/weld\/[a-z-]+\/rule\.ts';\nimport \{ zincTrace \} from '\.\/weld\/zinc-trace\/rule\.ts';/,
    );
    expect(registry).toMatch(/\n {2}[a-y]\w+,\n {2}zincTrace,\n\];/);
    const { code, text } = runTests('tests/meta/rules.meta.test.ts', 'shared/rules/weld/zinc-trace');
    expect(code).not.toBe(0);
    for (const expected of ['zinc-trace', 'has one registry line', 'FILL IN: fails']) expect(text).toContain(expected);
    // The scaffold itself is sound: it type-checks.
    const types = spawnSync(
      process.execPath,
      [resolve('node_modules/typescript/bin/tsc'), '--noEmit', '-p', 'tsconfig.rule.json'],
      {
        cwd: writeTypesOnly(),
        encoding: 'utf8',
      },
    );
    expect(types.stdout).toBe('');
  }, 60_000);

  it.each([
    ['', /expected <gate>\/<thing>-<check>, gate one of scan, design/],
    ['nowhere/some-check', /gate one of .*; got "nowhere\/some-check"/],
    ['weld/Word', /got "weld\/Word"/],
    ['weld/purge-time', /purge-time is in the registry already/],
    ['design/purge-time', /purge-time is in the registry already/],
  ])('is refused for %j', (word, problem) => {
    expect(newRule(top, word)).toMatch(problem);
  });
});

function writeTypesOnly(): string {
  mkdirSync(top, { recursive: true });
  const config = {
    extends: './tsconfig.json',
    include: ['shared/rules/registry.ts', 'shared/rules/weld/zinc-trace'],
  };
  writeFileSync(join(top, 'tsconfig.rule.json'), JSON.stringify(config));
  return top;
}
