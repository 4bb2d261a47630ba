// Mutation tests of the formulas and rules. Started by `run.mjs`, which says what to mutate; see there for the areas.
import { fileURLToPath } from 'node:url';

const folder = 'coverage/mutation';
const area = process.env.MUTATION_AREA ?? 'all';

export default {
  testRunner: 'vitest',
  plugins: ['@stryker-mutator/vitest-runner', fileURLToPath(new URL('./prose.mjs', import.meta.url))],
  vitest: { configFile: 'tests/mutation/vitest.config.ts' },
  coverageAnalysis: 'perTest',
  ignorers: ['prose'],
  // Only what the tests of `shared` read: the sandbox is a copy. No tsconfig.json in it: Stryker would rewrite it with an interface TypeScript 7 has not.
  ignorePatterns: ['/**', '!/shared/**', '!/tests/**', '!/package.json', 'tests/artefacts'],
  tempDirName: `${folder}/sandbox`,
  disableTypeChecks: false,
  concurrency: Number(process.env.MUTATION_CONCURRENCY ?? 2),
  timeoutMS: 8000,
  jsonReporter: { fileName: `${folder}/${area}.json` },
  htmlReporter: { fileName: `${folder}/${area}.html` },
  reporters: ['progress-append-only', 'json', 'html', 'clear-text'],
  clearTextReporter: {
    allowColor: false,
    logTests: false,
    reportTests: false,
    reportScoreTable: true,
    reportMutants: true,
  },
  thresholds: { high: 95, low: 85, break: 85 },
  incremental: true,
};
