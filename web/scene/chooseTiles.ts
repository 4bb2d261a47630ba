import type { Tile, TileIndex } from '../../shared/geometry/tiles.ts';
import type { Vec3 } from '../../shared/geometry/vector.ts';

/** Levels that are shown wherever the eye looks: the first picture. */
const ALWAYS = 2;
/** Points of the level before stand so far apart on the screen before a finer one is worth its points, px (own: the size of a drawn point). */
const LEAST_GAP = 2;
/** Nearer than this the eye is in the points, metres: sizes do not grow without end. */
const NEAREST = 0.02;

/** From where a scan is looked at, in its own frame; metres and pixels. */
export interface TileEye {
  readonly at: Vec3;
  /** Pixels that a metre covers a metre away. */
  readonly focal: number;
  /** Whether a ball is in sight. */
  readonly sees: (centre: Vec3, radius: number) => boolean;
}

/** A tile of one of some scans. */
export interface ChosenTile {
  readonly scan: number;
  readonly tile: Tile;
}

/** A scan to choose from. */
export interface TileOffer {
  readonly index: TileIndex;
  readonly tiles: readonly Tile[];
  readonly eye: TileEye;
}

/**
 * The tiles to show of some scans, most needed first: coarse ones before fine ones, near ones before far ones, none that would put points
 * closer together than they are drawn, and no more points in all than the device can take.
 */
export function chooseTiles(scans: readonly TileOffer[], budget: number): readonly ChosenTile[] {
  const wanted = scans.flatMap(({ index, tiles, eye }, scan) =>
    tiles.flatMap((tile) => {
      const need = needOf(tile, index, eye);
      return need > LEAST_GAP ? [{ scan, tile, need }] : [];
    }),
  );
  wanted.sort((a, b) => b.need - a.need || a.tile.level - b.tile.level);
  let left = budget;
  const chosen: ChosenTile[] = [];
  for (const { scan, tile } of wanted) {
    if (tile.count > left) break;
    left -= tile.count;
    chosen.push({ scan, tile });
  }
  return chosen;
}

/** How far apart the points that are there without a tile stand on the screen, px; 0 for a tile out of sight. */
function needOf({ level, corner, side }: Tile, { levels }: TileIndex, { at, focal, sees }: TileEye): number {
  // Above any need there is, and coarse ones first.
  if (level < ALWAYS) return Number.MAX_VALUE / 2 ** level;
  const half = side / 2;
  const centre: Vec3 = [corner[0] + half, corner[1] + half, corner[2] + half];
  const radius = half * Math.sqrt(3);
  if (!sees(centre, radius)) return 0;
  const distance = Math.hypot(centre[0] - at[0], centre[1] - at[1], centre[2] - at[2]) - radius;
  return (focal * (levels[level - 1]?.voxel ?? 0)) / Math.max(distance, NEAREST);
}
