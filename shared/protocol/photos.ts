import { z } from 'zod';

/** Answer of POST /api/projects/:id/photos: what is kept, an upright JPEG without place or device in it, named by its content. */
export const photoSchema = z.object({
  sha256: z.string(),
  /** Pixels. */
  width: z.number().int(),
  height: z.number().int(),
  bytes: z.number().int(),
  by: z.string(),
  /** ISO 8601. */
  at: z.string(),
});
/** See {@link photoSchema}. */
export type PhotoView = z.infer<typeof photoSchema>;
