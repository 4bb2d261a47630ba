import { performance } from 'node:perf_hooks';
import { nearnessOf } from '../../../server/measure/nearness/nearness.ts';
import { encodeTiles } from '../../../server/measure/tiles/encode.ts';
import { buildPointGrid } from '../../../shared/geometry/cloud.ts';
import type { TubeShape } from '../../../shared/geometry/measurement.ts';
import { NEARNESS_FAR, nearnessCap } from '../../../shared/geometry/nearness.ts';
import { tilesOf } from '../../../shared/geometry/tiles.ts';
import { bayPoints } from './data/bay.ts';

/*
 * How near each point of a seeded bay is to six runners: npm run bench -- geometry/nearness [millions of points, 5]. The first answer, the
 * answer after one node of one runner was moved, and what of it is sent again; one thread, CPU time.
 */

const millions = Number(process.argv[2] ?? 5);
const say = (line: string): void => void process.stdout.write(`${line}\n`);

/** A runner of 44.45 mm from its port to the collector, metres; the middle node moved aside. */
function runner(i: number, aside = 0): TubeShape {
  const x = i * 0.095;
  const [sx, sy] = [0.47 + 0.045 * Math.cos((i * Math.PI) / 3), 0.19 + 0.045 * Math.sin((i * Math.PI) / 3)];
  const middle = [x + (sx - x) / 2 + aside, 0.13 + 0.01 * ((2 * i) % 5), -0.12 - 0.009 * i, 0.05];
  const nodes = [x, 0, 0, 0, x, 0.078 + 0.009 * (i % 2), -0.004, 0.045, ...middle, sx, sy, -0.29, 0.045];
  return { nodes: [...nodes, sx, sy, -0.41, 0], outerRadius: 0.022225, fromS: 0.012 };
}

const grid = buildPointGrid(bayPoints(millions * 1e6, 42), [0, 0, 0]);
const { index } = await encodeTiles(grid);
const tiles = tilesOf(index);

function answer(what: string, aside: number, which = 3): Uint8Array {
  const before = performance.now();
  const cpu = process.cpuUsage();
  const tubes = Array.from({ length: 6 }, (_, i) => runner(i, i === which ? aside : 0));
  const made = nearnessOf(grid, { tubes, meshes: [], motion: null, cap: nearnessCap }, () => {
    throw new Error('no meshes here');
  });
  if (!made.ok) throw new Error(made.problem.message);
  const { user, system } = process.cpuUsage(cpu);
  const wall = performance.now() - before;
  say(`${what.padEnd(40)} CPU ${((user + system) / 1000).toFixed(0).padStart(6)} ms, wall ${wall.toFixed(0)} ms`);
  return made.result.levels;
}

say(`${grid.count} points, ${tiles.length} tiles, Node ${process.version}, one thread`);
const first = answer('first answer, order of the tiles included', 0);
answer('one runner moved by 5 mm', 0.005);
for (const aside of [0.006, 0.007, 0.008]) answer('and again', aside);
answer('taken back', 0);

/** Bytes of the tiles that an answer has to send to who has another one; nothing is sent of tiles with nothing near. */
function sentAfter(was: Uint8Array | null, is: Uint8Array): { readonly bytes: number; readonly tiles: number } {
  let [at, bytes, touched] = [0, 0, 0];
  for (const { count } of tiles) {
    const [before, now] = [was?.subarray(at, at + count), is.subarray(at, at + count)];
    at += count;
    const near = now.some((level) => level !== NEARNESS_FAR);
    if (!near || (before && now.every((level, i) => level === before[i]))) continue;
    bytes += count;
    touched++;
  }
  return { bytes, tiles: touched };
}

const sent = sentAfter(null, first).bytes;
const each = Array.from({ length: 6 }, (_, i) => sentAfter(first, answer(`runner ${i + 1} moved by 5 mm`, 0.005, i)));
const most = each.reduce((a, b) => (b.bytes > a.bytes ? b : a));
const within = first.reduce((n, level) => n + (level === NEARNESS_FAR ? 0 : 1), 0);
say(`within ${nearnessCap * 1000} mm ${((100 * within) / grid.count).toFixed(1)} % of the points`);
say(
  `sent at first at most ${(sent / 1e6).toFixed(2)} MB; after a move at most ${(most.bytes / 1e6).toFixed(2)} MB in ${most.tiles} tiles`,
);
if (most.bytes >= sent) throw new Error('an edit sends as much again as the first answer');
