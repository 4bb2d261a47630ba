import { z } from 'zod';
import type { MeasureKind, MeasureResult } from '../../shared/geometry/measurement.ts';
import { accessShapes } from './access-shapes.ts';
import { partShapes } from './part-shapes.ts';

/** A result with the kind of the job it belongs to. */
export type KeptResult = {
  readonly [K in MeasureKind]: { readonly kind: K; readonly result: MeasureResult<K> };
}[MeasureKind];

const place = z.tuple([z.number(), z.number(), z.number()]);

const left = z.object({ rms: z.number(), size95: z.number() });

/** The shape of each kind of result, as a cache file must hold it. */
const shapes: { readonly [K in MeasureKind]: z.ZodType<MeasureResult<K>> } = {
  clearance: z.object({
    gap: z.number(),
    point: place,
    foot: place,
    onTube: place,
    s: z.number(),
    points: z.number(),
    cover: z.number(),
  }),
  scanSpacing: z.object({ near: z.number(), measured: z.number(), median: z.number(), cover: z.number() }),
  scanCoverage: z.object({ seen: z.number(), gap: z.number(), open: z.number(), at: place.nullable() }),
  scanExtents: z.object({ least: place, greatest: place, points: z.number() }),
  deviation: z.object({
    points: z.number(),
    compared: z.number(),
    before: z.object({ rms: z.number(), size95: z.number() }),
    mean: z.number(),
    deviation: z.number(),
    rms: z.number(),
    size95: z.number(),
    largest: z.number(),
    at: place,
  }),
  scanFit: z.object({
    motion: z.object({ rotation: z.tuple([place, place, place]), translation: place }),
    shift: z.number(),
    compared: z.number(),
    overlap: z.number(),
    before: left,
    after: left,
    settled: z.boolean(),
  }),
  ...partShapes,
  ...accessShapes,
};

const isKind = (word: string): word is MeasureKind => Object.hasOwn(shapes, word);

/** A result read from outside, when its kind is known and its shape is that of the kind. */
export function checkedResult(kind: string, result: unknown): KeptResult | undefined {
  return isKind(kind) ? shaped(kind, result) : undefined;
}

function shaped<K extends MeasureKind>(kind: K, result: unknown): KeptResult | undefined {
  const read = shapes[kind].safeParse(result);
  // The shape was looked up by this very kind, which the compiler does not follow through a union.
  return read.success ? ({ kind, result: read.data } as unknown as KeptResult) : undefined;
}
