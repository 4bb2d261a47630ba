import { performance } from 'node:perf_hooks';
import { encodeTiles } from '../../../server/measure/tiles/encode.ts';
import { buildPointGrid } from '../../../shared/geometry/cloud.ts';
import { tilesOf } from '../../../shared/geometry/tiles.ts';
import { codecReady, decodeTile } from '../../../web/tiles/decode.ts';
import { bayPoints } from './data/bay.ts';

/*
 * A seeded bay cut into tiles for showing it: npm run bench -- geometry/tiles [millions of points, 5]. Bytes a point, bytes of the first
 * picture (index and the two coarsest levels), and how fast it is packed and unpacked; one thread. The first picture of 5 million points has
 * to stay within 0.3 MB and a point within 3 bytes, or the bench ends with 1.
 */

const millions = Number(process.argv[2] ?? 5);
const FIRST_PICTURE = 300_000;
const POINT = 3;
/** Levels of the first picture: cubes of 16 and 8 mm. */
const FIRST_LEVELS = 2;
const say = (line: string): void => void process.stdout.write(`${line}\n`);
const sum = (numbers: readonly number[]): number => numbers.reduce((a, b) => a + b, 0);

const points = bayPoints(millions * 1e6, 42);
const grid = buildPointGrid(points, [0, 0, 0]);
say(`${grid.count} points, Node ${process.version}, one thread`);

let before = performance.now();
const { index, tiles } = await encodeTiles(grid);
const packing = performance.now() - before;

const all = tilesOf(index);
for (const [level, { voxel, step }] of index.levels.entries()) {
  const mine = all.filter((tile) => tile.level === level);
  const [count, bytes] = [sum(mine.map((tile) => tile.count)), sum(mine.map((tile) => tile.bytes))];
  const name = voxel > 0 ? `${(voxel * 1000).toFixed(0)} mm` : 'the rest';
  const each = `${(bytes / count).toFixed(2)} B a point, steps of ${(step * 1e6).toFixed(1)} um`;
  say(`${name.padStart(8)}: ${String(mine.length).padStart(5)} tiles, ${String(count).padStart(8)} points, ${each}`);
}

await codecReady;
before = performance.now();
let unpacked = 0;
for (const [number, tile] of all.entries()) {
  const decoded = decodeTile(tiles[number] ?? new Uint8Array(), tile.count);
  if (!decoded.ok) throw new Error(`tile ${number}: ${decoded.problem}`);
  unpacked += decoded.points.length / 4;
}
const unpacking = performance.now() - before;
if (unpacked !== grid.count) throw new Error(`expected ${grid.count} points back, got ${unpacked}`);

const indexBytes = Buffer.byteLength(JSON.stringify(index));
const first = indexBytes + sum(all.filter((tile) => tile.level < FIRST_LEVELS).map((tile) => tile.bytes));
const bytes = indexBytes + sum(all.map((tile) => tile.bytes));
say(
  `index ${indexBytes} B, all ${(bytes / 1e6).toFixed(2)} MB, ${(bytes / grid.count).toFixed(2)} B a point (at most ${POINT})`,
);
say(`first picture ${(first / 1e6).toFixed(3)} MB (at most ${FIRST_PICTURE / 1e6} MB of 5 million points)`);
say(`cut and packed in ${packing.toFixed(0)} ms, ${(grid.count / packing / 1000).toFixed(1)} Mpt/s`);
say(`unpacked in ${unpacking.toFixed(0)} ms, sums checked, ${(grid.count / unpacking / 1000).toFixed(1)} Mpt/s`);
if (bytes / grid.count > POINT || first > FIRST_PICTURE) process.exitCode = 1;
