import { derive, type Known, known } from '../units/known.ts';
import { runnerLength } from './centreline.ts';
import type { FactContext } from './context.ts';

/** How far runner lengths lie apart. */
export interface LengthSpread {
  /** (longest - shortest) / mean. */
  readonly spread: number;
  /** Metres and name. */
  readonly longest: number;
  readonly longestName: string;
  readonly shortest: number;
  readonly shortestName: string;
}

/** Spread of the centreline lengths of all runners; null when there are fewer than two. Any runner unknown: unknown. */
export function lengthSpread(context: FactContext): Known<LengthSpread | null> {
  const { runners } = context.spec;
  return context.memo('length-spread', [runners], (): Known<LengthSpread | null> => {
    const inputs = Object.fromEntries(runners.map((runner) => [runner.id, runnerLength(context, runner)]));
    return derive(inputs, (lengths) => {
      const rows = runners.map((runner) => ({
        name: runner.name ?? runner.id,
        length: lengths[runner.id] ?? Number.NaN,
      }));
      rows.sort((a, b) => a.length - b.length);
      const [short, long] = [rows[0], rows.at(-1)];
      if (!short || !long || rows.length < 2) return known(null);
      const mean = rows.reduce((sum, row) => sum + row.length, 0) / rows.length;
      return known({
        spread: (long.length - short.length) / mean,
        longest: long.length,
        longestName: long.name,
        shortest: short.length,
        shortestName: short.name,
      });
    });
  });
}
