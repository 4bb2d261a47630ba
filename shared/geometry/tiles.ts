import type { Vec3 } from './vector.ts';

/** Counts up when a tile index or the bytes of a tile mean something else than before: tiles of another version are made anew. */
export const TILES_VERSION = 1;

/** Numbers of a tile in {@link TileLevel.tiles}. */
export const TILE_NUMBERS = 5;

/** One level of a tiled scan. Lengths in metres. */
export interface TileLevel {
  /** Side of the cubes of which each holds a point of this or a coarser level, if the scan has one there; 0 for the last level, which has all that is left. */
  readonly voxel: number;
  /** Side of its tiles. */
  readonly side: number;
  /** A point stands at most half a step off its place along each axis. A side has at most 2^16 steps. */
  readonly step: number;
  /** Five numbers a tile: its place along x, y, z in tiles from the origin, its points, its bytes. */
  readonly tiles: readonly number[];
}

/**
 * A scan cut for showing it: every point in one tile of one level, so that coarse and fine levels are drawn together. The bytes of the tiles
 * follow one another in the order of levels and tiles, coarse first.
 */
export interface TileIndex {
  readonly version: number;
  /** Points of the scan. */
  readonly points: number;
  /** The corner of the first tile of every level, metres. */
  readonly origin: Vec3;
  /** Names the bytes: another cut of another scan has another. */
  readonly stamp: string;
  readonly levels: readonly TileLevel[];
}

/** A tile as the index has it. Lengths in metres. */
export interface Tile {
  /** Its number, counted through all levels. */
  readonly number: number;
  readonly level: number;
  readonly corner: Vec3;
  readonly side: number;
  readonly step: number;
  readonly count: number;
  /** Where its bytes begin among those of all tiles, and how many they are. */
  readonly from: number;
  readonly bytes: number;
}

/** All tiles of an index, in the order of their bytes. */
export function tilesOf(index: TileIndex): readonly Tile[] {
  const all: Tile[] = [];
  let from = 0;
  for (const [level, { side, step, tiles }] of index.levels.entries()) {
    for (let at = 0; at + TILE_NUMBERS <= tiles.length; at += TILE_NUMBERS) {
      const [i = 0, j = 0, k = 0, count = 0, bytes = 0] = tiles.slice(at, at + TILE_NUMBERS);
      const [x, y, z] = index.origin;
      const corner: Vec3 = [x + i * side, y + j * side, z + k * side];
      all.push({ number: all.length, level, corner, side, step, count, from, bytes });
      from += bytes;
    }
  }
  return all;
}
