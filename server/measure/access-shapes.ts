import { z } from 'zod';
import type { AccessKinds } from '../../shared/geometry/accessMeasurement.ts';

const place = z.tuple([z.number(), z.number(), z.number()]);

/** The shapes of results on room and access, as a cache file must hold them. */
export const accessShapes: { readonly [K in keyof AccessKinds]: z.ZodType<AccessKinds[K]['result']> } = {
  partGap: z.object({ gap: z.number(), point: place, onPart: place, points: z.number(), cover: z.number() }),
  toolReach: z.object({ free: z.number(), by: z.enum(['tube', 'part', 'scan']).nullable(), at: place.nullable() }),
  straightOff: z.object({ free: z.number(), point: place.nullable(), onPart: place.nullable() }),
  torchReach: z.object({ share: z.number(), blind: z.number(), at: place.nullable() }),
};
