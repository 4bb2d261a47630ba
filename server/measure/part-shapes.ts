import { z } from 'zod';
import type { MeasureResult } from '../../shared/geometry/measurement.ts';
import type { PartKinds } from '../../shared/geometry/partMeasurement.ts';

const place = z.tuple([z.number(), z.number(), z.number()]);

const report = z.object({
  openEdges: z.number(),
  nonManifoldEdges: z.number(),
  flippedEdges: z.number(),
  shells: z.number(),
  selfIntersections: z.number(),
  selfIntersectionsComplete: z.boolean(),
  degenerate: z.number(),
  duplicate: z.number(),
  holes: z.number(),
  volume: z.number(),
  area: z.number(),
  triangles: z.number(),
  least: place,
  greatest: place,
  at: place.nullable(),
});

const pose = z.object({
  downskinArea: z.number(),
  plateArea: z.number(),
  supportToPlate: z.number(),
  supportToPart: z.number(),
  supportOnPart: z.number(),
  raster: z.number(),
  box: place,
  lowest: z.number(),
  hangingArea: z.number(),
  hangingAt: place.nullable(),
  trappedArea: z.number(),
  trappedAt: place.nullable(),
  slope: z.number(),
});

const choice = z.object({
  turn: place,
  downskinArea: z.number(),
  plateArea: z.number(),
  supportToPlate: z.number(),
  supportToPart: z.number(),
  height: z.number(),
  leastBoreAngle: z.number().nullable(),
});

const bore = z.object({ tube: z.number(), tilt: z.number(), diameter: z.number(), s: z.number(), at: place });

/** The shape of each kind of result on a part, as a cache file must hold it. */
export const partShapes: { readonly [K in keyof PartKinds]: z.ZodType<MeasureResult<K>> } = {
  meshReport: report,
  pose,
  poseSearch: z.object({ volume: z.number(), choices: z.array(choice) }),
  thinnestWall: z.object({ smallest: z.number(), p1: z.number(), at: place.nullable(), limit: z.number() }),
  innerGap: z.object({ gap: z.number(), at: place.nullable(), to: place.nullable(), limit: z.number() }),
  enclosed: z.object({
    count: z.number(),
    air: z.number(),
    openings: z.number(),
    second: z.number(),
    at: place.nullable(),
    edge: z.number(),
  }),
  boreTilt: z.object({ flattest: bore.nullable(), hidden: bore.nullable() }),
};
