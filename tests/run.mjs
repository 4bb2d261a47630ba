// Second half of `npm test`, and all of `npm run check`: every tool of the check, the unit and meta tests and (in `npm test`) the
// browser tests. Everything runs even when something before it failed; the last line counts it all.
import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { browserPath } from './browserPath.mjs';
import { browserSummary, total, unitSummary } from './counts.mjs';

const top = fileURLToPath(new URL('..', import.meta.url));
const packaged = (path) => join(top, 'node_modules', path);
const tsx = packaged('tsx/dist/cli.mjs');

/** A log is read as text: colours only on a terminal. */
const plain = process.stdout.isTTY ? {} : { NO_COLOR: '1', FORCE_COLOR: undefined };

/** Runs a node program and shows what it prints; resolves to its exit code and its output. */
function show(args, env = {}) {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, args, {
      cwd: top,
      stdio: ['ignore', 'pipe', 'inherit'],
      env: { ...process.env, ...plain, ...env },
    });
    let text = '';
    child.stdout.on('data', (chunk) => {
      text += chunk;
      process.stdout.write(chunk);
    });
    child.on('error', (error) => resolve({ code: 1, text: String(error) }));
    child.on('close', (code) => resolve({ code: code ?? 1, text }));
  });
}

/** Each tool counts as one. */
const tools = [
  ['format and lint', [packaged('@biomejs/biome/bin/biome'), 'check', '--error-on-warnings']],
  ['types', [packaged('typescript/bin/tsc'), '--noEmit', '-p', '.']],
  ['import law', [tsx, 'tests/meta/importLaw.ts']],
  ['dead code', [packaged('knip/bin/knip.js'), '--config', '.knip.json']],
];

async function runTool([title, args]) {
  process.stdout.write(`\n== ${title}\n`);
  const { code } = await show(args);
  return { title, passed: code === 0 ? 1 : 0, failed: code === 0 ? 0 : 1 };
}

async function runUnits() {
  process.stdout.write('\n== unit, meta, contract, reference and fuzz tests\n');
  const folder = mkdtempSync(join(tmpdir(), 'slipjoint-run-'));
  const file = join(folder, 'units.json');
  const args = [
    'run',
    '--config',
    'tests/vitest.config.ts',
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${file}`,
  ];
  const { code } = await show([packaged('vitest/vitest.mjs'), ...args]);
  const report = existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : null;
  rmSync(folder, { recursive: true, force: true });
  return { title: 'unit tests', ...unitSummary(report, code) };
}

async function runBrowser() {
  process.stdout.write('\n== browser tests\n');
  const CHROMIUM = browserPath();
  if (!CHROMIUM) process.stdout.write('No Chromium found: the browser tests count as failed. See tests/setup.mjs.\n');
  const { code, text } = CHROMIUM ? await show([tsx, 'tests/browser/run.ts'], { CHROMIUM }) : { code: 1, text: '' };
  return { title: 'browser tests', ...browserSummary(text, code) };
}

const onlyCheck = process.argv[2] === 'check';
const results = [];
for (const tool of tools) results.push(await runTool(tool));
results.push(await runUnits());
if (!onlyCheck) results.push(await runBrowser());

process.stdout.write('\n');
for (const { title, passed, failed } of results)
  process.stdout.write(`${title}: ${failed ? 'FAILED' : 'ok'} (${passed} of ${passed + failed})\n`);
const { passed, failed } = total(results);
process.exitCode = failed > 0 ? 1 : 0;
process.stdout.write(`${passed} passed, ${failed} failed\n`);
