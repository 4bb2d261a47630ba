import { mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readGridFile, writeGridFile } from '../../server/measure/grid-file.ts';
import { writeBinaryPly } from '../../server/measure/ply.ts';
import { createMeasurePool } from '../../server/measure/pool.ts';
import { e57File } from '../../server/measure/readers/e57.fixture.ts';
import { lasFile } from '../../server/measure/readers/las.fixture.ts';
import { lazFile } from '../../server/measure/readers/laz.fixture.ts';
import { readAnyScan, readScan } from '../../server/measure/readers/scan.ts';
import { coverageOf } from '../../server/measure/scan/coverage.ts';
import { spacingOf } from '../../server/measure/scan/spacing.ts';
import type { Centreline, CentrelineNode } from '../../shared/geometry/centreline.ts';
import { buildCentreline } from '../../shared/geometry/centreline.ts';
import { buildPointGrid } from '../../shared/geometry/cloud.ts';
import { tubeToTube } from '../../shared/geometry/distance.ts';
import { pointsUnder, smallestGap } from '../../shared/geometry/gap.ts';
import { joinPoints, sampleBox, sampleCylinder, sampleSheet } from '../../shared/geometry/generate.ts';
import { inventedRunner } from '../../shared/geometry/invent.ts';
import { seededRandom } from '../../shared/geometry/random.ts';
import { sweepTube } from '../../shared/geometry/sweep.ts';
import type { Vec3 } from '../../shared/geometry/vector.ts';

/* Measures server/measure and shared/geometry on seeded data: npx tsx tests/bench/measure.ts [millions of points, 1]. CPU time of the process. */

const millions = Number(process.argv[2] ?? 1);
const folder = mkdtempSync(join(tmpdir(), 'measure-bench-'));
const say = (line: string): void => void process.stdout.write(`${line}\n`);

/** Median and least CPU milliseconds of a call; `sink` keeps the work from being thought useless. */
let sink = 0;
function time(name: string, runs: number, work: (run: number) => number): void {
  const times: number[] = [];
  for (let i = 0; i < runs; i++) {
    const before = process.cpuUsage();
    const wall = performance.now();
    sink += work(i);
    const { user, system } = process.cpuUsage(before);
    // The CPU clock ticks too coarsely for short calls.
    times.push(Math.max(user + system, 0) / 1000 < 2 ? performance.now() - wall : (user + system) / 1000);
  }
  times.sort((a, b) => a - b);
  say(
    `${name.padEnd(52)} median ${times[times.length >> 1]?.toFixed(3)} ms, least ${times[0]?.toFixed(3)} ms (${runs} runs)`,
  );
}

function runner(seed: number, bends: number, start: Vec3 = [0, 0, 0]): Centreline {
  const line = buildCentreline(inventedRunner(seededRandom(seed), bends, start));
  if (!line.ok) throw new Error('the generator made a bad runner');
  return line;
}

/** A runner that winds in a plane at height z, askew by a small angle: twins of it are equally far apart all along. */
function planar(z: number, tilt: number): Centreline {
  const nodes: CentrelineNode[] = [];
  let [x, y, heading] = [0, 0, 0];
  for (let i = 0; i < 7; i++) {
    nodes.push({ x, y, z: z + x * tilt, radius: 0.05 });
    x += 0.12 * Math.cos(heading);
    y += 0.12 * Math.sin(heading);
    heading += i % 2 ? 1.2 : -1.2;
  }
  const line = buildCentreline(nodes);
  if (!line.ok) throw new Error('the generator made a bad runner');
  return line;
}

/** An invented bay about the runners: sheets, boxes and bars, of about so many points. */
function bay(count: number): Float32Array<ArrayBuffer> {
  const random = seededRandom(1);
  const sampling = { spacing: Math.sqrt(2.55 / count), sigma: 3.5e-4, holes: { count: 4, radius: 0.03 } };
  const parts = [
    sampleSheet({ corner: [-0.5, -0.5, -0.2], edgeU: [1, 0, 0], edgeV: [0, 1, 0] }, sampling, random),
    sampleBox({ centre: [0.35, 0, 0.1], size: [0.2, 0.6, 0.3] }, sampling, random),
    sampleBox({ centre: [-0.4, 0.1, 0.1], size: [0.1, 0.5, 0.2] }, sampling, random),
  ];
  for (let i = 0; i < 8; i++) {
    const from: Vec3 = [random() - 0.5, -0.4, random() * 0.6 - 0.1];
    parts.push(
      sampleCylinder({ from, to: [from[0] + 0.1, 0.4, from[2] + 0.1], radius: 0.015, caps: true }, sampling, random),
    );
  }
  return joinPoints(parts);
}

function benchGeometry(): void {
  const pairs = Array.from({ length: 200 }, (_, i) => [runner(i, 5), runner(1000 + i, 5, [0.05, 0.02, 0])] as const);
  say(`pieces a runner: ${pairs[0]?.[0].pieces.length} and ${pairs[0]?.[1].pieces.length}`);
  for (const [a, b] of pairs) sink += tubeToTube(a, b)?.distance ?? 0;
  time('tubeToTube, 200 pairs of runners (all of them)', 9, () =>
    pairs.reduce((sum, [a, b]) => sum + (tubeToTube(a, b)?.distance ?? 0), 0),
  );
  for (const tilt of [0, 1e-5, 1e-3]) {
    const [a, b] = [planar(0, 0), planar(0.05, tilt)];
    time(`tubeToTube, flat twins side by side, ${tilt} rad askew`, 100, () => tubeToTube(a, b)?.distance ?? 0);
  }
  const nodes = inventedRunner(seededRandom(7), 5);
  const twin = runner(7, 5);
  time('buildCentreline, 7 nodes (x 1000)', 9, () => {
    let sum = 0;
    for (let i = 0; i < 1000; i++) sum += buildCentreline(nodes).ok ? 1 : 0;
    return sum;
  });
  time(
    'sweepTube, 0.05 mm chords',
    30,
    () => sweepTube(twin, { radius: 0.0222, maxChordError: 5e-5, caps: true }).indices.length,
  );
}

function benchScan(points: Float32Array<ArrayBuffer>): string {
  say(`points: ${points.length / 3}`);
  const grid = buildPointGrid(points, [0, 0, 0]);
  time('buildPointGrid', 5, () => buildPointGrid(points, [0, 0, 0]).count);
  const tubes = Array.from({ length: 20 }, (_, i) => ({
    centreline: runner(300 + i, 5),
    outerRadius: 0.0222,
    fromS: 0.03,
  }));
  const [first] = tubes;
  if (!first) return '';
  const gaps = tubes.map((t) => (smallestGap(t, grid)?.gap ?? 9) * 1000).sort((a, b) => a - b);
  say(`gaps of the 20 runners, mm: ${gaps.map((g) => g.toFixed(1)).join(' ')}`);
  time(
    'smallestGap, one runner (20 different, each run one)',
    200,
    (i) => smallestGap(tubes[i % 20] ?? first, grid)?.gap ?? 0,
  );
  time('pointsUnder 12 mm', 40, (i) => pointsUnder(tubes[i % 20] ?? first, grid, { limit: 0.012, max: 5000 }).total);
  const five = tubes.slice(0, 5);
  time('spacing of the scan near 5 runners', 5, () => spacingOf(grid, five, 0.06).near);
  time('coverage of the scan around 5 runners', 5, () => {
    const made = coverageOf([grid], five, 0.06);
    if (!made.ok) throw new Error(made.problem.message);
    return made.result.seen;
  });
  const path = join(folder, 'bay.grid');
  time('writeGridFile, synced', 3, () => {
    writeGridFile(path, grid);
    return 1;
  });
  time('readGridFile', 5, () => readGridFile(path).count);
  return path;
}

function benchReaders(points: Float32Array<ArrayBuffer>): void {
  const rows: string[] = [];
  for (let i = 0; i < points.length; i += 3)
    rows.push(Array.from(points.subarray(i, i + 3), (x) => (x * 1000).toFixed(4)).join(' '));
  const header = `ply\nformat ascii 1.0\nelement vertex ${rows.length}\nproperty float x\nproperty float y\nproperty float z\nend_header\n`;
  for (const [name, content] of [
    ['PLY binary', writeBinaryPly(points, 1000)],
    ['PLY text', `${header}${rows.join('\n')}\n`],
    ['XYZ text', `${rows.join('\n')}\n`],
  ] as const) {
    const path = join(folder, 'scan');
    writeFileSync(path, content);
    time(`readScan ${name}, ${(statSync(path).size / 1e6).toFixed(0)} MB`, 3, () => {
      const outcome = readScan(path, { unitFactor: 0.001 });
      if (!outcome.ok) throw new Error(outcome.problem.message);
      return outcome.scan.count;
    });
  }
}

/** Formats whose test writers are slow: half a million points. Wall time, for unpacking starts a module. */
async function benchPackedReaders(points: Float32Array): Promise<void> {
  const some = Array.from(points.subarray(0, 1_500_000));
  const inMillimetres = some.map((x) => x * 1000);
  for (const [name, file, unitFactor] of [
    ['LAS', lasFile(inMillimetres, { scale: 0.001 }), 0.001],
    ['LAZ', lazFile(inMillimetres, { scale: 0.001 }), 0.001],
    ['E57, doubles', e57File([{ points: some, packet: 2000 }]), 1],
    ['E57, scaled whole numbers', e57File([{ points: some, packet: 4000, as: 'scaled' }]), 1],
  ] as const) {
    const path = join(folder, 'packed');
    writeFileSync(path, file);
    const walls: number[] = [];
    for (let i = 0; i < 5; i++) {
      const before = performance.now();
      const outcome = await readAnyScan(path, { unitFactor });
      walls.push(performance.now() - before);
      if (!outcome.ok) throw new Error(outcome.problem.message);
    }
    const wall = walls.sort((a, b) => a - b)[2] ?? Number.NaN;
    const [size, rate] = [file.length / 1e6, some.length / 3 / wall / 1000];
    say(
      `${`readAnyScan ${name}, ${size.toFixed(1)} MB`.padEnd(52)} median ${wall.toFixed(0)} ms wall, ${rate.toFixed(1)} M points/s`,
    );
  }
}

async function benchPool(scanFile: string): Promise<void> {
  const pool = createMeasurePool(1);
  const nodesOf = (i: number) => inventedRunner(seededRandom(300 + i), 5).flatMap((n) => [n.x, n.y, n.z, n.radius]);
  const walls: number[] = [];
  for (let i = 0; i < 200; i++) {
    const before = performance.now();
    await pool.run({
      kind: 'measure',
      job: { kind: 'clearance', scan: 'bay', nodes: nodesOf(i % 20), outerRadius: 0.0222, fromS: 0.03 },
      scanFiles: { bay: scanFile },
      meshFiles: {},
    });
    walls.push(performance.now() - before);
  }
  const [first = 0, ...rest] = walls;
  rest.sort((a, b) => a - b);
  say(
    `clearance through the pool, wall: first ${first.toFixed(0)} ms (thread start and load), then median ${rest[99]?.toFixed(2)} ms, p95 ${rest[189]?.toFixed(2)} ms`,
  );
  await pool.destroy();
}

benchGeometry();
const points = bay(millions * 1e6);
const path = benchScan(points);
benchReaders(points);
await benchPackedReaders(points);
await benchPool(path);
say(`(sum ${sink.toFixed(0)}) peak memory ${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MB`);
rmSync(folder, { recursive: true });
