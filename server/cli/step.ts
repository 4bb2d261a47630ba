import { readFile, writeFile } from 'node:fs/promises';
import { headerStep } from '../../shared/quantities/headerStep.ts';
import { whyWords } from '../../shared/rules/words.ts';
import { parseSpecText } from '../../shared/spec/file.ts';
import { readSpec } from '../../shared/spec/reader.ts';
import { isoTime } from '../ambient.ts';
import type { Console } from './console.ts';

/** Writes the runners of a spec file as exact tubes in a STEP file. */
export async function step(args: readonly string[], out: Console): Promise<number> {
  const [from, to, ...more] = args;
  if (from === undefined || to === undefined || more.length > 0) {
    out.error(`step: expected a spec file and a file to write, got ${args.length} arguments`);
    return 1;
  }
  try {
    const read = parseSpecText(await readFile(from, 'utf8'));
    if (!read.ok) {
      for (const { path, message } of read.problems) out.error(`${from}: ${path}: ${message}`);
      return 1;
    }
    const made = headerStep(readSpec(read.entries), isoTime(Date.now()));
    if (!made.known) {
      out.error(`step: the header has no tubes to write: ${whyWords(made.why)}`);
      return 1;
    }
    await writeFile(to, made.value);
    out.line(`${to}: ${made.value.length} bytes`);
    return 0;
  } catch (error) {
    out.error(`step: ${error instanceof Error ? error.message : String(error)}`);
    return 1;
  }
}
