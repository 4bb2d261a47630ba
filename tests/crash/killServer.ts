import { join } from 'node:path';
import { testFolder } from '../support/folder.ts';
import { runKillCycles } from './killCycles.ts';

/** Kills the real server again and again while people write: npm run crash -- <cycles> [seed] */

const cycles = Number(process.argv[2] ?? 20);
const seed = Number(process.argv[3] ?? 1);
if (!Number.isInteger(cycles) || cycles < 1 || !Number.isInteger(seed)) {
  console.error('expected a number of cycles and a whole number as seed');
  process.exit(1);
}
console.log(`seed ${seed}`);
const folder = testFolder();
const report = await runKillCycles({
  dataDir: join(folder.path, 'data'),
  cycles,
  seed,
  say: (line) => console.log(line),
});
folder.dispose();
const { lost, diverged, chainFaults, ...counts } = report;
console.log(
  JSON.stringify({ ...counts, lost: lost.length, diverged: diverged.length, chainFaults: chainFaults.length }),
);
for (const what of lost.slice(0, 20)) console.log(`lost: ${what}`);
const bad = lost.length + diverged.length + chainFaults.length + report.signaturesLost;
console.log(`seed ${seed}: ${bad === 0 ? 'nothing lost' : 'FAILED'}`);
process.exit(bad === 0 ? 0 : 1);
