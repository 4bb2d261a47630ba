import type { Measurements } from '../../shared/quantities/context.ts';
import { createEngine, type Engine } from '../../shared/rules/engine.ts';
import { rules } from '../../shared/rules/registry.ts';
import type { Verdict } from '../../shared/rules/verdict.ts';
import type { Spec } from '../../shared/spec/spec.ts';

/** How long measurements are waited for, ms: longer than most take, shorter than a person looks at an empty table. */
const PATIENCE_MS = 4_000;

/** Measurements for one question. */
export interface AskedMeasurements extends Measurements {
  /** Called with the names of those still waited for: no others need be made. */
  settle(waited: () => Iterable<string>): void;
  close(): void;
}

/** What judging needs of the server. */
export interface JudgingParts {
  /** Calls `arrived` when one that was pending is there. */
  readonly measurements: (arrived: () => void) => AskedMeasurements;
  /** Resolves after so long, or when stopped. */
  readonly pause: (ms: number, stop: AbortSignal) => Promise<void>;
}

const pendingIn = (engine: Engine): string[] =>
  [...engine.verdicts().values()].flatMap((verdict) =>
    verdict.status === 'unknown' && verdict.why.reason === 'pending' ? [verdict.why.job] : [],
  );

/** The verdicts on specs, each from scratch. What could not be measured in time is left pending; it goes on being known what was. */
export async function judgeAll(
  specs: readonly Spec[],
  { measurements, pause }: JudgingParts,
): Promise<readonly ReadonlyMap<string, Verdict>[]> {
  let wake = (): void => undefined;
  const measured = measurements(() => wake());
  const stop = new AbortController();
  let late = false;
  const deadline = pause(PATIENCE_MS, stop.signal).then(() => {
    late = true;
  });
  try {
    const engines: Engine[] = [];
    for (const spec of specs) {
      const engine = createEngine({ rules, measured });
      engine.evaluate(spec);
      engines.push(engine);
      // Each is some tens of milliseconds of work: edits that wait come in between.
      await new Promise((resolve) => setImmediate(resolve));
    }
    for (;;) {
      const arrived = new Promise<void>((resolve) => {
        wake = resolve;
      });
      for (const engine of engines) engine.remeasured();
      const waited = engines.flatMap(pendingIn);
      measured.settle(() => waited);
      if (waited.length === 0 || late) return engines.map((engine) => new Map(engine.verdicts()));
      await Promise.race([arrived, deadline]);
    }
  } finally {
    stop.abort();
    measured.close();
  }
}
