import { getHeapSpaceStatistics } from 'node:v8';

/** Short-lived objects worth clearing away before the engine must, bytes: some ten changes with their frames to a crowd. */
const WORTH_IT = 12 * 1024 * 1024;
/** Nothing came for so long: people's hands rest longer than that between two changes, ms. */
const QUIET_MS = 40;

export interface IdleCollection {
  /** Clears short-lived objects away. Absent: the process does not allow it, and the engine does it when it must. */
  readonly collect: (() => void) | undefined;
  readonly youngBytes: () => number;
  /** Starts a timer of so many milliseconds; gives back what stops it. */
  readonly after: (ms: number, run: () => void) => () => void;
}

/** With `node --expose-gc`, as `npm start` runs it. */
export const engineCollection: IdleCollection = {
  collect: globalThis.gc && (() => void globalThis.gc?.({ type: 'minor' })),
  youngBytes: () => getHeapSpaceStatistics().find(({ space_name }) => space_name === 'new_space')?.space_used_size ?? 0,
  after: (ms, run) => {
    const timer = setTimeout(run, ms);
    timer.unref();
    return () => clearTimeout(timer);
  },
};

/**
 * To be called after each answer. Memory is then tidied while nobody waits: left to itself the engine does it in the middle of a
 * change, which takes some milliseconds longer for it.
 */
export function collectWhenIdle({ collect, youngBytes, after }: IdleCollection): () => void {
  if (!collect) return () => undefined;
  let stop = (): void => undefined;
  return () => {
    stop();
    stop = after(QUIET_MS, () => {
      if (youngBytes() >= WORTH_IT) collect();
    });
  };
}
