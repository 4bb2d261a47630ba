import { z } from 'zod';
import { TILE_NUMBERS, TILES_VERSION, type TileIndex } from '../geometry/tiles.ts';

/** Most bytes of tiles that one request may ask for (own: some 1.4 million points; a browser asks for far less at a time). */
export const tileBytesLimit = 4 * 1024 ** 2;
/** Most points in a tile (own: half a megabyte decoded, small enough to load and to drop as a whole). */
export const tilePointsLimit = 65_536;

const whole = z.number().int().nonnegative();
const level = z.object({
  voxel: z.number().nonnegative(),
  side: z.number().positive(),
  step: z.number().positive(),
  tiles: z.array(whole).refine(({ length }) => length % TILE_NUMBERS === 0, `${TILE_NUMBERS} numbers a tile`),
});

/** Answer of GET /api/projects/:id/scans/:scan/tiles; see {@link TileIndex}. */
export const tileIndexSchema: z.ZodType<TileIndex> = z.object({
  version: z.literal(TILES_VERSION),
  points: whole,
  origin: z.tuple([z.number(), z.number(), z.number()]),
  stamp: z.string().regex(/^[0-9a-f]{8}$/),
  levels: z.array(level),
});

/** The stretch `from-end` (bytes, end not included) in GET /api/projects/:id/scans/:scan/tiles/:stamp/:stretch. */
export const tileStretchSchema = z
  .string()
  .regex(/^\d{1,12}-\d{1,12}$/, 'a stretch of bytes such as 0-4096')
  .transform((text) => {
    const [from = 0, end = 0] = text.split('-').map(Number);
    return { from, end };
  })
  .refine(({ from, end }) => end > from && end - from <= tileBytesLimit, `1 to ${tileBytesLimit} bytes`);
