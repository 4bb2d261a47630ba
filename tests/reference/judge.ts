import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, it } from 'vitest';

/**
 * Independent libraries of the machine's own Python (Debian: python3-scipy, python3-fluids, python3-sympy; `npm test` installs them
 * there as root). A judge gets cases on its standard input and answers each. Where it is missing its tests are skipped and it says so.
 */
export interface Judge {
  /** Libraries with their versions, as they stand in the names of the tests. */
  readonly name: string;
  readonly here: boolean;
  /** Answers, in the order of the cases; throws with the judge's own words when it broke. */
  ask(cases: readonly JudgedCase[]): readonly unknown[];
}
/** One question: which closed form, fit or integral, and its inputs (SI). */
export interface JudgedCase {
  readonly kind: string;
  readonly inputs: unknown;
}

const PYTHON = '/usr/bin/python3';

/** The judge that a script beside this file and these Python modules make. */
export function judgeOf(script: string, modules: readonly string[]): Judge {
  const versions = spawnSync(
    PYTHON,
    [
      '-c',
      `import ${modules.join(', ')}; print(', '.join(f'{m.__name__} {m.__version__}' for m in (${modules.join(', ')},)))`,
    ],
    { encoding: 'utf8' },
  );
  const here = versions.status === 0;
  const path = fileURLToPath(new URL(script, import.meta.url));
  return {
    name: here ? versions.stdout.trim() : `${modules.join(', ')} (not installed)`,
    here,
    ask(cases) {
      const run = spawnSync(PYTHON, [path], { input: JSON.stringify(cases), encoding: 'utf8', maxBuffer: 1e8 });
      if (run.status !== 0) throw new Error(`${script} failed: ${run.error ?? run.stderr}`);
      const answers: unknown = JSON.parse(run.stdout);
      if (!Array.isArray(answers) || answers.length !== cases.length)
        throw new Error(`${script}: expected ${cases.length} answers, got ${run.stdout.slice(0, 200)}`);
      return answers;
    },
  };
}

/** Makes the tests of one judge: each names it; where it is missing each is skipped, counted and said so at the end. */
export function judgedBy(
  judge: Pick<Judge, 'name' | 'here'>,
): (name: string, body: () => void | Promise<void>) => void {
  let skipped = 0;
  // A skipped file runs no hooks, so this one test always runs; it fails nothing but tells.
  it(`${judge.name} ${judge.here ? 'judges' : 'IS MISSING, ITS COMPARISONS ARE SKIPPED'}`, () => {
    expect(judge.name).not.toBe('');
  });
  afterAll(() => {
    if (skipped > 0)
      console.warn(`SKIPPED ${skipped} comparisons: ${judge.name}. See tests/setup.mjs for how to get it.`);
  });
  return (name, body) => {
    if (!judge.here) skipped += 1;
    it.skipIf(!judge.here)(`${name} (judge: ${judge.name})`, body, 60_000);
  };
}

/** Largest difference of two numbers, lists of numbers or nested lists, as a share of the larger (of 1e-300 at least). */
export function apart(ours: unknown, theirs: unknown): number {
  if (Array.isArray(ours) && Array.isArray(theirs) && ours.length === theirs.length)
    return Math.max(0, ...ours.map((one, i) => apart(one, theirs[i])));
  if (typeof ours !== 'number' || typeof theirs !== 'number') return Number.POSITIVE_INFINITY;
  const larger = Math.max(Math.abs(ours), Math.abs(theirs));
  const share = Math.abs(ours - theirs) / Math.max(larger, 1e-300);
  return Number.isNaN(share) ? Number.POSITIVE_INFINITY : share;
}

/** An answer as a list of numbers; anything else is a fault of the judge. */
export function numbersOf(answer: unknown): readonly number[] {
  const list: readonly unknown[] = Array.isArray(answer) ? answer.flat(2) : [answer];
  return list.map((one) => {
    if (typeof one === 'number') return one;
    throw new Error(`expected numbers from the judge, got ${JSON.stringify(answer)}`);
  });
}
