import { z } from 'zod';
import { asked, scanSchema } from './http.ts';

const id = z.string().min(1).max(64);
const length = z.number().nonnegative();
const left = z.object({ rms: length, size95: length });

/** Which bay component's scan is laid on that of which other. Query of GET and body of POST /api/projects/:id/scan-fit. */
export const scanFitWishSchema = z.strictObject({ component: id, onto: id });

/**
 * What is left between two scans where they overlap, before and after a fine fit (root mean square, and what nineteen of twenty are under),
 * and the farthest that the fit moves a point that was compared: metres. `overlap`: the share (0 to 1) of the points looked at that have the
 * other scan near.
 */
export const scanFitSchema = z.object({
  ...{ before: left, after: left, shift: length, compared: z.number().int().nonnegative() },
  ...{ overlap: z.number().min(0).max(1), settled: z.boolean() },
});

/** Answer of GET /api/projects/:id/scan-fit. */
export const askedScanFitSchema = asked(scanFitSchema);

/**
 * Answer of POST /api/projects/:id/scan-fit: the moved copy, which is a scan of its own, and how it is placed. It lies in the frame of the
 * scan it was laid on, so that both stay together when a datum point changes.
 */
export const fittedScanSchema = z.object({ scan: scanSchema, placed: z.enum(['as-uploaded', 'by-datums']) });

/** See {@link scanFitSchema}. */
export type ScanFit = z.infer<typeof scanFitSchema>;
/** See {@link askedScanFitSchema}. */
export type AskedScanFit = z.infer<typeof askedScanFitSchema>;
/** See {@link fittedScanSchema}. */
export type FittedScan = z.infer<typeof fittedScanSchema>;

/** Why a fit is of no use, in words; null for one that may be used. */
export function fitProblem({ settled, before, after }: ScanFit): string | null {
  const maybe = 'The scans may overlap too little, or something was moved between them.';
  if (!settled) return `The fit did not come to rest. ${maybe}`;
  if (!(after.rms < before.rms)) return `The fit leaves no less than there was before. ${maybe}`;
  return null;
}
