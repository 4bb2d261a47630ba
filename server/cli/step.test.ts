import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { exportSpec } from '../../shared/spec/file.ts';
import { baseEntries } from '../../tests/support/baseSpec.ts';
import { stepMesh } from '../../tests/support/stepReader.ts';
import { runCommand } from './cli.fixture.ts';

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'step-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

async function specFile(change: Readonly<Record<string, unknown>> = {}): Promise<string> {
  const file = join(folder, 'spec.json');
  await writeFile(file, JSON.stringify(exportSpec(baseEntries(change))));
  return file;
}

it('writes the runners as tubes another modeller reads', async () => {
  const to = join(folder, 'header.step');
  expect(await runCommand('step', await specFile(), to)).toMatchObject({ code: 0, errors: '' });
  const text = await readFile(to, 'utf8');
  const mesh = await stepMesh(text);
  expect(mesh.indices.length).toBeGreaterThan(300);
});

it('says what is wrong and writes nothing', async () => {
  const to = join(folder, 'header.step');
  const bad = await specFile({ 'runners.r1.nodes.n2.radius': 0.9 });
  const ran = await runCommand('step', bad, to);
  expect(ran.code).toBe(1);
  expect(ran.errors).toMatch(/the header has no tubes to write: .*bend/i);
  await expect(readFile(to)).rejects.toThrow('ENOENT');
});

it.each([
  [[], /expected a spec file and a file to write, got 0 arguments/],
  [['a', 'b', 'c'], /got 3 arguments/],
  [['no-such.json', 'out.step'], /ENOENT/],
])('refuses %j', async (words, message) => {
  const ran = await runCommand('step', ...words);
  expect(ran.code).toBe(1);
  expect(ran.errors).toMatch(message);
});
