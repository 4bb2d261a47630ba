// How long an edit waits until it is safe: npx tsx tests/bench/journal.ts [folder]
// Give a folder on the disk the shop's data lives on; the system's temporary folder may be memory.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openJournal } from '../../server/storage/embedded/journal.ts';

const update = Uint8Array.from({ length: 120 }, (_, index) => (index * 37) & 255);
const folder = mkdtempSync(join(process.argv[2] ?? tmpdir(), 'slipjoint-bench-'));
const journal = await openJournal({ file: join(folder, 'journal.db') });

async function timed(rounds: number, together: number): Promise<void> {
  const waits: number[] = [];
  const one = async () => {
    const start = performance.now();
    await journal.append('bench', 'spec', update, 'account');
    waits.push(performance.now() - start);
  };
  const start = performance.now();
  for (let round = 0; round < rounds; round++) await Promise.all(Array.from({ length: together }, one));
  const seconds = (performance.now() - start) / 1000;
  waits.sort((a, b) => a - b);
  const at = (part: number) => (waits[Math.floor(part * (waits.length - 1))] ?? Number.NaN).toFixed(2);
  const rate = Math.round(waits.length / seconds);
  console.log(
    `${together} at once: ${waits.length} appends, ${rate}/s, p50 ${at(0.5)} ms, p99 ${at(0.99)} ms, max ${at(1)} ms`,
  );
}

await timed(50, 1);
console.log('after 50 to warm up:');
await timed(1_000, 1);
await timed(50, 200);
await journal.close();
rmSync(folder, { recursive: true });
