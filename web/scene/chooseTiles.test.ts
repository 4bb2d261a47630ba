import { expect, it } from 'vitest';
import { type TileIndex, tilesOf } from '../../shared/geometry/tiles.ts';
import { chooseTiles, type TileEye, type TileOffer } from './chooseTiles.ts';

/** Two coarse tiles over everything, and along x a row of eight of every finer level with a thousand points each. */
const index: TileIndex = {
  version: 1,
  points: 32_200,
  origin: [0, 0, 0],
  stamp: '0badcafe',
  levels: [
    { voxel: 0.016, side: 1, step: 1e-4, tiles: [0, 0, 0, 100, 10] },
    { voxel: 0.008, side: 1, step: 1e-4, tiles: [0, 0, 0, 100, 10] },
    ...[0.004, 0.002, 0.001, 0].map((voxel) => ({
      voxel,
      side: 0.1,
      step: 1e-4,
      tiles: Array.from({ length: 8 }, (_, i) => [i, 0, 0, 1000, 10]).flat(),
    })),
  ],
};
const offer = (eye: Partial<TileEye>): TileOffer => ({
  index,
  tiles: tilesOf(index),
  eye: { at: [0.4, 0, 2], focal: 1000, sees: () => true, ...eye },
});
const chosen = (offers: readonly TileOffer[], budget = 1e6) =>
  chooseTiles(offers, budget).map(({ tile }) => `${tile.level}:${Math.round(tile.corner[0] * 10)}`);

it('begins with the two coarsest levels, in sight or not', () => {
  expect(chosen([offer({ sees: () => false })])).toEqual(['0:0', '1:0']);
});

it('takes a finer level where the points of the one before stand more than two pixels apart', () => {
  // 2 m away 8 mm are 4 px and 4 mm 2 px: the 4 mm level is shown and the 2 mm level is not, but where the tile reaches nearer.
  const levels = new Set(chosen([offer({ at: [0.4, 0.05, 2.2] })]).map((name) => name[0]));
  expect([...levels]).toEqual(['0', '1', '2']);
  expect(chosen([offer({ at: [0.4, 0.05, 0.3] })])).toContain('5:4');
});

it('takes near tiles before far ones and stops at the budget', () => {
  const near = chosen([offer({ at: [0, 0.05, 0.2] })], 3200);
  // A finer level near by comes before a coarser one far off: its points would stand wider apart on the screen.
  expect(near).toEqual(['0:0', '1:0', '2:0', '2:1', '3:0']);
  expect(chosen([offer({ at: [0, 0.05, 0.2] })], 50)).toEqual([]);
});

it('leaves out fine tiles out of sight', () => {
  const right = chosen([offer({ at: [0.4, 0.05, 1], sees: ([x]) => x > 0.4 })]);
  expect(right.filter((name) => name.startsWith('2:')).sort()).toEqual(['2:4', '2:5', '2:6', '2:7']);
});

it('shares one budget between scans, coarse levels of all of them first', () => {
  const both = chooseTiles([offer({}), offer({ at: [0.4, 0, 30] })], 400);
  expect(both.map(({ scan, tile }) => [scan, tile.level])).toEqual([
    [0, 0],
    [1, 0],
    [0, 1],
    [1, 1],
  ]);
});
