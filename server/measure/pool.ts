import { Piscina } from 'piscina';
import type { MeasureTask, TaskOutcome } from './jobs.ts';
import { limitedReads } from './limited-reads.ts';
import { workerUrl } from './worker-url.ts';

/** Threads that measure. Every thread keeps the scans it used last. */
export interface MeasurePool {
  readonly threads: number;
  /** Runs a task on a free thread. Rejects only when a worker dies or hits a bug. */
  readonly run: <T extends MeasureTask>(task: T) => Promise<TaskOutcome<T>>;
  /** Ends the threads; tasks still running are given up. */
  readonly destroy: () => Promise<void>;
}

/** Longest a part file may take to read, ms (own: the largest STEP file taken needs half of it on a slow machine). */
export const READ_LIMIT_MS = 120_000;

/** Starts the measuring threads. TypeScript sources are loaded through tsx; the built output needs nothing. */
export function createMeasurePool(threads = 2, readLimitMs = READ_LIMIT_MS): MeasurePool {
  const pool = new Piscina<MeasureTask, TaskOutcome>({
    filename: workerUrl(import.meta.url),
    minThreads: 1,
    maxThreads: threads,
  });
  const limited = limitedReads((task: MeasureTask, options) => pool.run(task, options), readLimitMs);
  return {
    threads,
    // The worker answers each kind of task with that kind's result: its signature cannot say so across the thread.
    run: <T extends MeasureTask>(task: T) =>
      (task.kind === 'readMesh' ? limited(task) : pool.run(task)) as Promise<TaskOutcome<T>>,
    destroy: () => pool.destroy(),
  };
}
