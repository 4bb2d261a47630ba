// `npm run fuzz`: the fuzz tests with ten times the work and a seed of the day's choosing. A failing seed is printed in the test's name;
// FUZZ_SEED=<seed> replays it; FUZZ_EDITS (engine), FUZZ_UPDATES (update intake) and FUZZ_ROUNDS (convergence) set the length.
import { randomInt } from 'node:crypto';
import { run } from '../../.config/ready.mjs';

const { FUZZ_EDITS = '10000', FUZZ_UPDATES = '20000', FUZZ_ROUNDS = '400' } = process.env;
const { FUZZ_SEED = String(randomInt(1, 2 ** 31)) } = process.env;
process.stdout.write(
  `FUZZ_SEED=${FUZZ_SEED} FUZZ_EDITS=${FUZZ_EDITS} FUZZ_UPDATES=${FUZZ_UPDATES} FUZZ_ROUNDS=${FUZZ_ROUNDS}\n`,
);
const args = [
  'node_modules/vitest/vitest.mjs',
  'run',
  '--config',
  'tests/vitest.config.ts',
  '--testTimeout=600000',
  'tests/fuzz',
];
process.exitCode = await run(process.execPath, args, { env: { FUZZ_EDITS, FUZZ_UPDATES, FUZZ_ROUNDS, FUZZ_SEED } });
