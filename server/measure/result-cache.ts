import { appendFile, mkdir, readFile, rename, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { z } from 'zod';
import { checkedResult, type KeptResult } from './result-shapes.ts';

const Line = z.object({ key: z.string().regex(/^[0-9a-f]{64}$/), kind: z.string(), result: z.unknown() });

/**
 * Results by key in a file of one JSON object a line, only ever added to. It is a cache: a damaged or unfinished line is passed over
 * and its measurement made again, so it is never synced and never trusted beyond its shape.
 */
export interface ResultCache {
  /** Everything in the file, the last `most` lines of it, and how many lines could not be used. */
  readonly load: () => Promise<{ readonly results: ReadonlyMap<string, KeptResult>; readonly damaged: number }>;
  /** Adds a line, in order, without waiting. */
  readonly append: (key: string, kept: KeptResult) => void;
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
    append: (key, kept) => queue(() => appendFile(path, lineOf(key, kept))),
    flush: async () => {
      await chain;
      return failure;
    },
  };
}

const lineOf = (key: string, { kind, result }: KeptResult): string => `${JSON.stringify({ key, kind, result })}\n`;

function parseLines(lines: readonly string[]): { results: Map<string, KeptResult>; damaged: number } {
  const results = new Map<string, KeptResult>();
  let damaged = 0;
  for (const line of lines) {
    const parsed = Line.safeParse(jsonOf(line));
    const kept = parsed.success ? checkedResult(parsed.data.kind, parsed.data.result) : undefined;
    if (parsed.success && kept) results.set(parsed.data.key, kept);
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

async function rewrite(path: string, results: ReadonlyMap<string, KeptResult>): Promise<void> {
  const lines = Array.from(results, ([key, kept]) => lineOf(key, kept));
  await writeFile(`${path}.part`, lines.join(''));
  await rename(`${path}.part`, path);
}
