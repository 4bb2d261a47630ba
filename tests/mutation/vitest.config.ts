import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Globs of the tests that may kill a mutant, set by `run.mjs`. The oracle test needs Python and is left out: it would be skipped without it. */
const include = (process.env.MUTATION_TESTS ?? 'shared/**/*.test.ts').split(' ');

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
    exclude: ['tests/reference/oracle*.test.ts'],
    testTimeout: 20_000,
    sequence: { sequencer: QuickFirst },
  },
});
