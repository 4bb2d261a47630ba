import { appendFile, mkdir, readFile, rename, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { z } from 'zod';
import type { ClearanceResult } from '../../shared/geometry/measurement.ts';

const place = z.tuple([z.number(), z.number(), z.number()]);
const Line = z.object({
  key: z.string().regex(/^[0-9a-f]{64}$/),
  result: z.object({
    gap: z.number(),
    point: place,
    foot: place,
    onTube: place,
    s: z.number(),
    points: z.number(),
    cover: z.number(),
  }),
});

/**
 * Results by key in a file of one JSON object a line, only ever added to. It is a cache: a damaged or unfinished line is passed over
 * and its measurement made again, so it is never synced and never trusted beyond its shape.
 */
export interface ResultCache {
  /** Everything in the file, the last `most` lines of it, and how many lines could not be used. */
  readonly load: () => Promise<{ readonly results: ReadonlyMap<string, ClearanceResult>; readonly damaged: number }>;
  /** Adds a line, in order, without waiting. */
  readonly append: (key: string, result: ClearanceResult) => void;
  /** Resolves when every line added so far is written, with the first error of the disk if there was one. */
  readonly flush: () => Promise<Error | undefined>;
}

/** A cache in a file; the file and its folder need not exist. Lines beyond twice `most` are dropped at loading. */
export function fileCache(path: string, most: number): ResultCache {
  let chain: Promise<void> = Promise.resolve();
  let failure: Error | undefined;
  const queue = (write: () => Promise<void>): void => {
    chain = chain.then(write).catch((error: unknown) => {
      failure ??= error instanceof Error ? error : new Error(String(error));
    });
  };
  return {
    load: async () => {
      await mkdir(dirname(path), { recursive: true });
      const text = await readFile(path, 'utf8').catch(() => '');
      const lines = text.split('\n').filter((line) => line !== '');
      const { results, damaged } = parseLines(lines.slice(-most));
      // An unfinished last line would swallow the next one; a file grown to twice its use is cut down.
      if (lines.length > 2 * most) queue(() => rewrite(path, results));
      else if (text !== '' && !text.endsWith('\n')) queue(() => appendFile(path, '\n'));
      return { results, damaged };
    },
    append: (key, result) => queue(() => appendFile(path, `${JSON.stringify({ key, result })}\n`)),
    flush: async () => {
      await chain;
      return failure;
    },
  };
}

function parseLines(lines: readonly string[]): { results: Map<string, ClearanceResult>; damaged: number } {
  const results = new Map<string, ClearanceResult>();
  let damaged = 0;
  for (const line of lines) {
    const parsed = Line.safeParse(jsonOf(line));
    if (parsed.success) results.set(parsed.data.key, parsed.data.result);
    else damaged++;
  }
  return { results, damaged };
}

function jsonOf(line: string): unknown {
  try {
    return JSON.parse(line);
  } catch {
    return undefined;
  }
}

async function rewrite(path: string, results: ReadonlyMap<string, ClearanceResult>): Promise<void> {
  const lines = Array.from(results, ([key, result]) => `${JSON.stringify({ key, result })}\n`);
  await writeFile(`${path}.part`, lines.join(''));
  await rename(`${path}.part`, path);
}
