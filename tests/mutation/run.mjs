// `npm run mutate [-- <area> ...]`: mutation tests of the formulas and rules, one area after the other, each with its own report.
// An area is a folder of shared/trade or shared/rules (`trade/weld`, `rules/design`) or the files beside those folders (`trade`, `rules`).
import { spawn } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { constants, setPriority } from 'node:os';
import { fileURLToPath } from 'node:url';

const top = fileURLToPath(new URL('../..', import.meta.url));
const reports = 'coverage/mutation';
/** Least share of mutants found, percent, for each area. */
const LEAST = 85;

const layers = ['trade', 'rules'];

/** Tests that may kill a mutant there: the ones made for it, so that each place is held by its own tests and no mutant waits for all. */
function testsOf(area) {
  if (area.startsWith('trade')) return 'shared/trade/**/*.test.ts tests/reference/**/*.test.ts';
  if (area === 'rules') return 'shared/rules/*.test.ts tests/meta/ruleTable.meta.test.ts';
  return `shared/${area}/**/*.test.ts tests/meta/rules.meta.test.ts`;
}

const areas = layers.flatMap((layer) => {
  const inside = readdirSync(`${top}/shared/${layer}`, { withFileTypes: true });
  return [layer, ...inside.filter((one) => one.isDirectory()).map((one) => `${layer}/${one.name}`)];
});

/** Files of an area: with `rules/<gate>` its rule folders too. */
function mutated(area) {
  const deep = area.startsWith('rules/') ? '**/' : '';
  return `shared/${area}/${deep}*.ts,!shared/**/*.test.ts,!shared/**/*.fixture.ts`;
}

function stryker(area, name) {
  const args = [
    `${top}/node_modules/@stryker-mutator/core/bin/stryker.js`,
    'run',
    'tests/mutation/stryker.config.mjs',
    '--mutate',
    mutated(area),
    '--incrementalFile',
    `${reports}/${name}.incremental.json`,
  ];
  return new Promise((resolve) => {
    const env = { ...process.env, MUTATION_TESTS: testsOf(area), MUTATION_AREA: name };
    const child = spawn(process.execPath, args, { cwd: top, stdio: 'inherit', env });
    child.on('error', () => resolve(1));
    child.on('close', (code) => resolve(code ?? 1));
  });
}

/** Mutants by what became of them; null when there is no report. */
function counted(name) {
  const count = { killed: 0, timeout: 0, survived: 0, noCoverage: 0, ignored: 0, invalid: 0 };
  const column = {
    Killed: 'killed',
    Timeout: 'timeout',
    Survived: 'survived',
    NoCoverage: 'noCoverage',
    Ignored: 'ignored',
  };
  const report = JSON.parse(readFileSync(`${top}/${reports}/${name}.json`, 'utf8'));
  for (const file of Object.values(report.files))
    for (const { status } of file.mutants) count[column[status] ?? 'invalid'] += 1;
  return count;
}

function score({ killed, timeout, survived, noCoverage }) {
  const found = killed + timeout;
  return (100 * found) / (found + survived + noCoverage);
}

function line(name, count) {
  const cells = Object.values(count).map((n) => String(n).padStart(10));
  return `${name.padEnd(20)}${cells.join('')}${score(count).toFixed(1).padStart(9)} %\n`;
}

const wanted = process.argv.slice(2);
const unknown = wanted.filter((area) => !areas.includes(area));
if (unknown.length > 0) {
  process.stderr.write(`Expected areas out of ${areas.join(', ')}; got ${unknown.join(', ')}\n`);
  process.exit(2);
}

// Whoever works on the machine meanwhile comes first.
setPriority(constants.priority.PRIORITY_LOW);
mkdirSync(`${top}/${reports}`, { recursive: true });
const rows = [];
let failed = false;
for (const area of wanted.length > 0 ? wanted : areas) {
  const name = area.replace('/', '-');
  rmSync(`${top}/${reports}/${name}.json`, { force: true });
  const code = await stryker(area, name);
  failed ||= code !== 0;
  try {
    rows.push([area, counted(name)]);
  } catch (error) {
    failed = true;
    process.stderr.write(`${area}: no report was written: ${error.message}\n`);
  }
}

const total = { killed: 0, timeout: 0, survived: 0, noCoverage: 0, ignored: 0, invalid: 0 };
for (const [, count] of rows) for (const key of Object.keys(total)) total[key] += count[key];
process.stdout.write(
  `\n${'area'.padEnd(20)}${Object.keys(total)
    .map((key) => key.padStart(10))
    .join('')}    score\n`,
);
for (const [area, count] of rows) process.stdout.write(line(area, count));
process.stdout.write(line('total', total));
process.exitCode = failed || rows.some(([, count]) => score(count) < LEAST) ? 1 : 0;
