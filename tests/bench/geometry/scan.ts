import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { writeBinaryPly } from '../../../server/measure/ply.ts';
import { createMeasurePool } from '../../../server/measure/pool.ts';
import { inventedRunner } from '../../../shared/geometry/invent.ts';
import type { ClearanceJob } from '../../../shared/geometry/measurement.ts';
import { seededRandom } from '../../../shared/geometry/random.ts';
import { bayPoints } from './data/bay.ts';

/*
 * A scan from its last byte to the first clearance, and then a runner that is dragged: npx tsx tests/bench/geometry/scan.ts [millions of
 * points, 5]. Wall time through the measuring pool, its worker started and loaded before.
 */

const millions = Number(process.argv[2] ?? 5);
const say = (line: string): void => void process.stdout.write(`${line}\n`);

/** A seeded runner in the bay, its middle node moved by so much, metres. */
function moved(by: number, scan: string): ClearanceJob {
  const nodes = inventedRunner(seededRandom(3), 4, [0, 0.05, 0.05]);
  const middle = Math.floor(nodes.length / 2);
  const flat = nodes.flatMap(({ x, y, z, radius }, i) => [x, y + (i === middle ? by : 0), z, radius]);
  return { kind: 'clearance', scan, nodes: flat, outerRadius: 0.0212, fromS: 0.01 };
}

const folder = mkdtempSync(join(tmpdir(), 'scan-bench-'));
const pool = createMeasurePool(1);
try {
  const [file, out] = [join(folder, 'bay.ply'), join(folder, 'bay.grid')];
  writeFileSync(file, writeBinaryPly(bayPoints(millions * 1e6, 42), 1000));
  const clearance = async (by: number): Promise<number> => {
    const job = moved(by, 'bay');
    const made = await pool.run({ kind: 'measure', job, scanFiles: { bay: out }, meshFiles: {} });
    if (!made.ok) throw new Error(made.problem.message);
    return made.result.gap;
  };
  await clearance(0).catch(() => undefined);
  const before = process.memoryUsage().rss;
  const start = performance.now();
  const read = await pool.run({ kind: 'readScan', file, unitFactor: 0.001, out });
  if (!read.ok) throw new Error(read.problem.message);
  const kept = performance.now();
  const gap = await clearance(0);
  const first = performance.now();
  say(
    `${millions} million points: read and sorted ${(kept - start).toFixed(0)} ms, first clearance ${(first - start).toFixed(0)} ms after the last byte (${(gap * 1000).toFixed(3)} mm)`,
  );
  const times: number[] = [];
  for (let i = 0; i < 100; i++) {
    const asked = performance.now();
    await clearance(0.0001 * (i + 1));
    times.push(performance.now() - asked);
  }
  times.sort((a, b) => a - b);
  say(
    `runner dragged, fresh exact clearance each time: median ${times[50]?.toFixed(2)} ms, p95 ${times[95]?.toFixed(2)} ms`,
  );
  const held = process.memoryUsage().rss - before;
  say(`memory: ${(held / 1e6).toFixed(0)} MB more than before the scan came`);
} finally {
  await pool.destroy();
  rmSync(folder, { recursive: true });
}
