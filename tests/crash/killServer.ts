import { join } from 'node:path';
import { testFolder } from '../support/folder.ts';
import { runKillCycles } from './killCycles.ts';
import { runSigningCycles } from './signingCycles.ts';

/** Kills the real server again and again while people write, or while somebody signs: npm run crash -- <cycles> [seed] [signing] */

const cycles = Number(process.argv[2] ?? 20);
const seed = Number(process.argv[3] ?? 1);
const [, , , , what = 'writing'] = process.argv;
if (!Number.isInteger(cycles) || cycles < 1 || !Number.isInteger(seed) || !['writing', 'signing'].includes(what)) {
  console.error('expected a number of cycles, a whole number as seed, and writing or signing');
  process.exit(1);
}
console.log(`seed ${seed}`);
const folder = testFolder();
const options = { dataDir: join(folder.path, 'data'), cycles, seed, say: (line: string) => console.log(line) };
const bad = await (what === 'signing' ? signing() : writing());
folder.dispose();
console.log(`seed ${seed}: ${bad === 0 ? 'nothing lost' : 'FAILED'}`);
process.exit(bad === 0 ? 0 : 1);

/** Number of things that went wrong. */
async function writing(): Promise<number> {
  const { lost, diverged, chainFaults, ...counts } = await runKillCycles(options);
  console.log(
    JSON.stringify({ ...counts, lost: lost.length, diverged: diverged.length, chainFaults: chainFaults.length }),
  );
  for (const one of lost.slice(0, 20)) console.log(`lost: ${one}`);
  return lost.length + diverged.length + chainFaults.length + counts.signaturesLost;
}

async function signing(): Promise<number> {
  const { faults, ...counts } = await runSigningCycles(options);
  console.log(JSON.stringify({ ...counts, faults: faults.length }));
  for (const one of faults.slice(0, 20)) console.log(one);
  return faults.length;
}
