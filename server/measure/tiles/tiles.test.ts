import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildPointGrid } from '../../../shared/geometry/cloud.ts';
import { sampleSheet } from '../../../shared/geometry/generate.ts';
import { seededRandom } from '../../../shared/geometry/random.ts';
import { type Tile, tilesOf } from '../../../shared/geometry/tiles.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import { tileIndexSchema, tilePointsLimit } from '../../../shared/protocol/tiles.ts';
import { codecReady, decodeTile } from '../../../web/tiles/decode.ts';
import { encodeTiles } from './encode.ts';
import { readTileIndex, readTiles, TileFileError, writeTileFile } from './tile-file.ts';

beforeAll(() => codecReady);
const folder = mkdtempSync(join(tmpdir(), 'slipjoint-tiles-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Points all over a cube, metres. */
function cloud(count: number, side: number, seed: number): Float32Array {
  const random = seededRandom(seed);
  return Float32Array.from({ length: 3 * count }, () => side * random());
}

/** What a browser gets: each point of each tile at the middle of its step, with the tile it is in. */
async function shown(points: Float32Array, origin: Vec3 = [0, 0, 0]) {
  const { index, tiles } = await encodeTiles(buildPointGrid(points, origin));
  const all = tilesOf(index);
  expect(tiles.map(({ length }) => length)).toEqual(all.map(({ bytes }) => bytes));
  const got: { at: Vec3; tile: Tile }[] = [];
  for (const tile of all) {
    const decoded = decodeTile(tiles[tile.number] ?? new Uint8Array(), tile.count);
    if (!decoded.ok) throw new Error(decoded.problem);
    for (let i = 0; i < tile.count; i++) {
      const on = (k: 0 | 1 | 2): number => tile.corner[k] + ((decoded.points[4 * i + k] ?? 0) + 0.5) * tile.step;
      got.push({ at: [on(0), on(1), on(2)], tile });
    }
  }
  return { index: tileIndexSchema.parse(JSON.parse(JSON.stringify(index))), got, tiles };
}

/** Pairs each point of the scan with a shown one of its own, half a step away at most; gives how many found none. */
function unpaired(points: Float32Array, origin: Vec3, got: readonly { at: Vec3; tile: Tile }[]): number {
  const size = 1e-3;
  const cell = (p: Vec3, [i, j, k]: Vec3 = [0, 0, 0]): string =>
    `${Math.floor(p[0] / size) + i},${Math.floor(p[1] / size) + j},${Math.floor(p[2] / size) + k}`;
  const open = new Map<string, { at: Vec3; tile: Tile }[]>();
  for (const one of got) open.set(cell(one.at), [...(open.get(cell(one.at)) ?? []), one]);
  const near: Vec3[] = [-1, 0, 1].flatMap((i) => [-1, 0, 1].flatMap((j) => [-1, 0, 1].map((k): Vec3 => [i, j, k])));
  let none = 0;
  for (let o = 0; o < points.length; o += 3) {
    const on = (k: 0 | 1 | 2): number => (points[o + k] ?? 0) + origin[k];
    const p: Vec3 = [on(0), on(1), on(2)];
    const found = near
      .map((by) => open.get(cell(p, by)) ?? [])
      .flatMap((list) => list.map((one) => ({ list, one })))
      // A billionth more than half: the sums of this test round.
      .find(({ one }) => one.at.every((x, k) => Math.abs(x - (p[k] ?? 0)) <= 0.5 * one.tile.step * (1 + 1e-6) + 1e-12));
    if (found) found.list.splice(found.list.indexOf(found.one), 1);
    else none++;
  }
  return none + [...open.values()].reduce((sum, list) => sum + list.length, 0);
}

describe('a scan cut into tiles', () => {
  it.each([
    [
      'a sheet with noise',
      sampleSheet(
        { corner: [-0.3, 0.1, 0], edgeU: [0.4, 0, 0.1], edgeV: [0, 0.3, 0] },
        { spacing: 0.002, sigma: 0.0004 },
        seededRandom(31),
      ),
      [0, 0, 0],
    ],
    [
      'a flat sheet',
      sampleSheet(
        { corner: [0, 0, 0.25], edgeU: [0.3, 0, 0], edgeV: [0, 0.3, 0] },
        { spacing: 0.003, sigma: 0 },
        seededRandom(32),
      ),
      [0, 0, 0],
    ],
    ['far from zero', cloud(4000, 0.2, 33), [4.5e6, -2.25e5, 1200]],
    ['one point', Float32Array.of(1.25, -7, 0.5), [0, 0, 0]],
    ['two in one place', Float32Array.of(0.1, 0.2, 0.3, 0.1, 0.2, 0.3), [0, 0, 0]],
    ['points in line', Float32Array.from({ length: 900 }, (_, i) => (i % 3 === 1 ? i / 900 : 0)), [0, 0, 0]],
    ['300 m wide', cloud(500, 300, 34), [0, 0, 0]],
  ] as const)('gives each point back once, half a step off at most: %s', async (_, points, origin) => {
    const { index, got } = await shown(points, [...origin]);
    expect(index.points).toBe(points.length / 3);
    expect(got).toHaveLength(points.length / 3);
    expect(unpaired(points, [...origin], got)).toBe(0);
  });

  it('has no tiles for a scan without points', async () => {
    const { index, got } = await shown(new Float32Array());
    expect([index.points, got]).toEqual([0, []]);
  });

  it('has a point of this or a coarser level in each cube of a level that has any, and in few two', async () => {
    const points = cloud(60_000, 0.08, 35);
    const { index, got } = await shown(points);
    const cubes = (list: readonly Vec3[], voxel: number): Map<string, number> => {
      const counts = new Map<string, number>();
      for (const p of list) {
        const key = p.map((x, k) => Math.floor((x - (index.origin[k] ?? 0)) / voxel)).join(',');
        counts.set(key, (counts.get(key) ?? 0) + 1);
      }
      return counts;
    };
    for (const [level, { voxel }] of index.levels.entries()) {
      if (voxel === 0) continue;
      const all = cubes(
        got.map(({ at }) => at),
        voxel,
      );
      const mine = got.filter(({ tile }) => tile.level <= level).map(({ at }) => at);
      expect([...cubes(mine, voxel).keys()].sort()).toEqual([...all.keys()].sort());
      const fresh = cubes(
        got.filter(({ tile }) => tile.level === level).map(({ at }) => at),
        voxel,
      );
      expect(Math.max(0, ...fresh.values())).toBeLessThanOrEqual(1);
    }
    expect(index.levels.map(({ voxel }) => Math.round(voxel * 1e6))).toEqual([16000, 8000, 4000, 2000, 1000, 0]);
  });

  it('lies within its tile, and no tile holds more than it may', async () => {
    const { got } = await shown(cloud(200_000, 0.03, 36));
    for (const { at, tile } of got)
      for (const k of [0, 1, 2] as const)
        expect(Math.abs(at[k] - tile.corner[k] - tile.side / 2)).toBeLessThan(tile.side / 2);
    const most = got.reduce((n, { tile }) => Math.max(n, tile.count), 0);
    expect(most).toBe(tilePointsLimit);
  });

  it('is cut the same way each time, and other points have another stamp', async () => {
    const points = cloud(3000, 0.3, 37);
    const [once, again] = [await shown(points), await shown(points)];
    expect(again.tiles).toEqual(once.tiles);
    const other = Float32Array.from(points, (x, i) => (i === 3000 ? x + 1e-3 : x));
    expect((await shown(other)).index.stamp).not.toBe(once.index.stamp);
  });
});

describe('a tile', () => {
  it.each([
    ['a flipped bit', (bytes: Uint8Array) => bytes.map((b, i) => (i === bytes.length - 7 ? b ^ 4 : b)), /sum/],
    ['its end cut off', (bytes: Uint8Array) => bytes.subarray(0, bytes.length - 3), /sum/],
    ['nothing', () => new Uint8Array(), /expected a tile, got 0 bytes/],
  ])('that is damaged is told, not drawn: %s', async (_, damage, told) => {
    const { tiles, index } = await shown(cloud(500, 0.1, 38));
    const decoded = decodeTile(damage(tiles[0] ?? new Uint8Array()), tilesOf(index)[0]?.count ?? 0);
    expect(decoded.ok ? 'drawn' : decoded.problem).toMatch(told);
  });

  it('with another number of points than the index says is told', async () => {
    const { tiles, index } = await shown(cloud(500, 0.1, 39));
    const decoded = decodeTile(tiles[0] ?? new Uint8Array(), (tilesOf(index)[0]?.count ?? 0) + 40);
    expect(decoded).toMatchObject({ ok: false, problem: expect.stringMatching(/packed points/) });
  });
});

describe('a tile file', () => {
  const path = join(folder, 'bay.tiles');

  it('gives index and tiles back as they were written', async () => {
    const encoded = await encodeTiles(buildPointGrid(cloud(5000, 0.4, 40), [0, 0, 0]));
    writeTileFile(path, encoded);
    const file = await readTileIndex(path);
    expect(file.index).toEqual(encoded.index);
    expect(Buffer.from(await readTiles(path, file, 0, file.length))).toEqual(Buffer.concat(encoded.tiles));
    expect(Buffer.from(await readTiles(path, file, 10, 30))).toEqual(Buffer.concat(encoded.tiles).subarray(10, 30));
  });

  it.each([
    ['another file', () => Buffer.from('ply\nformat ascii 1.0\nelement vertex 0\n'), /Expected a tile file/],
    [
      'another version',
      (b: Buffer) => Buffer.concat([b.subarray(0, 4), Buffer.of(9, 0, 0, 0), b.subarray(8)]),
      /version 1, got 9/,
    ],
    ['its end cut off', (b: Buffer) => b.subarray(0, b.length - 1), /Expected a tile file of \d+ bytes/],
    ['a header cut short', (b: Buffer) => b.subarray(0, 11), /Expected a tile file/],
    [
      'a damaged index',
      (b: Buffer) => Buffer.from(b.map((x, i) => (i === 40 ? x ^ 1 : x))),
      /index of the tile file is damaged/,
    ],
    [
      'a damaged header',
      (b: Buffer) => Buffer.from(b.map((x, i) => (i === 9 ? x ^ 1 : x))),
      /header of the tile file is damaged/,
    ],
  ])('that is not whole is refused: %s', async (_, damage, told) => {
    writeTileFile(path, await encodeTiles(buildPointGrid(cloud(100, 0.4, 41), [0, 0, 0])));
    writeFileSync(path, damage(readFileSync(path)));
    const refusal = await readTileIndex(path).catch((error: unknown) => error);
    expect(refusal).toBeInstanceOf(TileFileError);
    expect(String(refusal)).toMatch(told);
  });
});
