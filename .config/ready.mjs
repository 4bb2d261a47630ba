// What has to be there before anything runs: packages, the generated database client, the build. Plain Node, because on a fresh
// clone there is nothing else yet. Each step looks first and does nothing when its result is newer than what it is made from.
import { spawn } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { compileKernels } from './kernels.mjs';

export const top = fileURLToPath(new URL('..', import.meta.url));

/** Time of last change in ms; 0 for what is not there. */
function changed(path) {
  return statSync(join(top, path), { throwIfNoEntry: false })?.mtimeMs ?? 0;
}

/** The latest change anywhere under a folder. */
function latest(folder) {
  const names = readdirSync(join(top, folder), { withFileTypes: true });
  return Math.max(
    changed(folder),
    ...names.map((one) => (one.isDirectory() ? latest(join(folder, one.name)) : changed(join(folder, one.name)))),
  );
}

/** Runs a command with its output shown; resolves to the exit code, 127 when the program is not there. */
export function run(command, args, { env = {}, ...options } = {}) {
  return new Promise((resolve) => {
    const child = spawn(command, args, {
      cwd: top,
      stdio: ['ignore', 'inherit', 'inherit'],
      ...options,
      env: { ...process.env, CHECKPOINT_DISABLE: '1', ...env },
    });
    child.on('error', () => resolve(127));
    child.on('close', (code) => resolve(code ?? 1));
  });
}

/** Runs npm the way this process was started by it, which also works where npm is a script that cannot be spawned. */
export function npm(args) {
  const cli = process.env.npm_execpath;
  return cli?.endsWith('.js')
    ? run(process.execPath, [cli, ...args])
    : run('npm', args, { shell: process.platform === 'win32' });
}

/** Null when this Node is new enough, else what to do. */
function oldNode() {
  const { engines } = JSON.parse(readFileSync(join(top, 'package.json'), 'utf8'));
  const [major = 0, minor = 0] = (engines.node.match(/\d+/g) ?? []).map(Number);
  const [haveMajor = 0, haveMinor = 0] = process.versions.node.split('.').map(Number);
  const enough = haveMajor > major || (haveMajor === major && haveMinor >= minor);
  return enough ? null : `Expected Node ${engines.node}, this is ${process.versions.node}.`;
}

async function step(title, work) {
  const began = performance.now();
  process.stdout.write(`${title}\n`);
  const code = await work();
  if (code !== 0) throw new Error(`${title}: failed with exit code ${code}`);
  process.stdout.write(`${title}: ${((performance.now() - began) / 1000).toFixed(1)} s\n`);
}

/** Installs the packages of the lock file unless they are there already. */
export async function installPackages() {
  const problem = oldNode();
  if (problem) throw new Error(problem);
  const locked = existsSync(join(top, 'package-lock.json'));
  const wanted = Math.max(changed('package-lock.json'), locked ? 0 : changed('package.json'));
  if (changed('node_modules/.package-lock.json') >= wanted) return;
  await step('Installing packages', () => npm([locked ? 'ci' : 'install', '--no-audit', '--no-fund', '--include=dev']));
}

const packaged = (path) => join(top, 'node_modules', path);
const node = (path, ...args) => run(process.execPath, [packaged(path), ...args]);

/** Writes the database client from the schema. */
export async function generateClient({ always = false } = {}) {
  if (!always && changed('prisma/generated/client.ts') >= changed('prisma/schema.prisma')) return;
  await step('Generating the database client', () =>
    node('prisma/build/index.js', 'generate', '--no-hints', '--config', '.config/prisma.ts'),
  );
}

function builtSince() {
  const sources = Math.max(...['shared', 'server', 'web', 'prisma'].map(latest), changed('package-lock.json'));
  return Math.min(changed('dist/web/index.html'), changed('dist/server/cli/main.js')) >= sources;
}

/** Builds the web app and the server, unless what was built is newer than every source. */
export async function buildAll({ always = false } = {}) {
  await generateClient({ always });
  await compileKernels();
  if (!always && builtSince()) return;
  await step('Building the web app', () =>
    node('vite/bin/vite.js', 'build', '--config', 'web/vite.config.ts', '--logLevel', 'warn'),
  );
  await step('Building the server', () => run(process.execPath, ['server/build.mjs']));
}

/** Runs a script's steps; what goes wrong is said in one line and is the exit code. */
export async function orFail(work) {
  try {
    await work();
  } catch (error) {
    process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
    process.exitCode = 1;
  }
}
