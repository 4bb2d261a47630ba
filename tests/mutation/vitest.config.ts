import { readdirSync, readFileSync } from 'node:fs';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Globs of the tests that may kill a mutant, set by `run.mjs`. */
const include = (process.env.MUTATION_TESTS ?? 'shared/**/*.test.ts').split(' ');

/** Tests that ask a Python library: they would start it for each mutant, and are skipped where there is none. */
const judged = readdirSync(new URL('../reference', import.meta.url))
  .filter((name) => name.endsWith('.test.ts'))
  .filter((name) => readFileSync(new URL(`../reference/${name}`, import.meta.url), 'utf8').includes("'./judge.ts'"))
  .map((name) => `tests/reference/${name}`);

/** Thousands of seeded draws over every formula: each mutant that lives would run them all. What they alone would find counts as not found. */
const drawn = ['shared/trade/properties.test.ts'];

/** A run ends with the first failure, so what is quick and finds most goes first. */
const first = [/\/shared\/.*\/validity\.test\.ts$/, /\/shared\/.*\/(formulas|rule)\.test\.ts$/, /\/shared\//];
const last = [
  /\/trade\/formulas\.test\.ts$/,
  /\/rules\.meta\.test\.ts$/,
  /\/metrology\.test\.ts$/,
  /\/schedule\.test\.ts$/,
];

function place({ moduleId }: TestSpecification): number {
  const late = last.findIndex((pattern) => pattern.test(moduleId));
  if (late >= 0) return first.length + 1 + late;
  const early = first.findIndex((pattern) => pattern.test(moduleId));
  return early >= 0 ? early : first.length;
}

class QuickFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    return [...files].sort((a, b) => place(a) - place(b));
  }
}

export default defineConfig({
  root: new URL('../..', import.meta.url).pathname,
  test: {
    include,
    exclude: [...judged, ...drawn],
    testTimeout: 20_000,
    sequence: { sequencer: QuickFirst },
  },
});
