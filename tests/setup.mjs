// First half of `npm test` and `npm run check`: brings what the tests need, on a clone with nothing in it. Plain Node.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { buildAll, generateClient, installPackages, orFail, run } from '../.config/ready.mjs';
import { browserPath } from './browserPath.mjs';

/** Chromium drives the browser tests. Without it they count as failed, so say here how to get it. */
async function installBrowser() {
  if (browserPath()) return;
  const asRoot = process.getuid?.() === 0;
  if (asRoot && existsSync('/usr/bin/apt-get')) {
    process.stdout.write('Installing Chromium for the browser tests\n');
    const env = { DEBIAN_FRONTEND: 'noninteractive' };
    await run('apt-get', ['update', '-q'], { env });
    await run('apt-get', ['install', '-y', '-q', '--no-install-recommends', 'chromium'], { env });
  }
  if (browserPath()) return;
  process.stderr.write(
    'No Chromium found, so the browser tests will count as failed. Install it (Debian: apt-get install chromium) or set CHROMIUM to its program.\n',
  );
}

/**
 * Independent libraries that judge the formulas, and programs that judge the meshes and the papers. Without them those tests are skipped and say so; the
 * rest still runs.
 */
async function installJudges() {
  const libraries = ['fluids', 'scipy', 'sympy'];
  const programs = {
    admesh: 'admesh',
    assimp: 'assimp-utils',
    qpdf: 'qpdf',
    pdftotext: 'poppler-utils',
    zbarimg: 'zbar-tools',
  };
  const missing = () => [
    ...libraries
      .filter((name) => spawnSync('/usr/bin/python3', ['-c', `import ${name}`]).status !== 0)
      .map((name) => `python3-${name}`),
    ...Object.entries(programs)
      .filter(([name]) => spawnSync(name, ['--help']).error)
      .map(([, debian]) => debian),
    ...(spawnSync('/usr/bin/python3', ['tests/reference/read3mf.py']).status === 0 ? [] : ['lib3mf1']),
  ];
  if (missing().length > 0 && process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
    process.stdout.write(`Installing ${missing().join(', ')} to judge formulas, meshes and papers\n`);
    const env = { DEBIAN_FRONTEND: 'noninteractive' };
    await run('apt-get', ['update', '-q'], { env });
    await run('apt-get', ['install', '-y', '-q', '--no-install-recommends', ...missing()], { env });
  }
  if (missing().length > 0)
    process.stderr.write(
      `Not installed: ${missing().join(', ')} (Debian: apt-get install). The comparisons with them are skipped.\n`,
    );
}

await orFail(async () => {
  await installPackages();
  if (process.argv[2] === 'check') return generateClient();
  await buildAll();
  await installBrowser();
  await installJudges();
});
