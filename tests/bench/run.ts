import { spawnSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** Runs the bench named by the first argument, with the rest as its own; a folder's name runs all in it; all of them without: npx tsx tests/bench/run.ts [name] */

const folder = fileURLToPath(new URL('.', import.meta.url));
const helpers = ['run', 'relay', 'rawClients'];
// A bench of a folder is named with it; what stands deeper makes its data.
const names = readdirSync(folder, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts'))
  .map((file) => file.slice(0, -3).replaceAll('\\', '/'))
  .filter((name) => name.split('/').length <= 2)
  .filter((name) => !helpers.includes(name))
  .sort();
const [asked, ...args] = process.argv.slice(2);
// `edit-to-verdict` and `editToVerdict` are the same bench.
const wanted = asked?.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());
const chosen = names.filter((name) => wanted === undefined || name === wanted || name.startsWith(`${wanted}/`));
if (chosen.length === 0) {
  console.error(`expected one of ${names.join(', ')}, got "${wanted}"`);
  process.exit(1);
}
/** As the command line starts itself (first line of server/cli/main.ts): a long record leaves much behind to be collected. */
const started: Readonly<Record<string, readonly string[]>> = { record: ['--max-semi-space-size=128'] };
for (const name of chosen) {
  console.log(`== ${name}`);
  const node = [...(started[name] ?? []), '--import', 'tsx'];
  const { status } = spawnSync(process.execPath, [...node, `${folder}${name}.ts`, ...args], { stdio: 'inherit' });
  if (status !== 0) process.exitCode = 1;
}
