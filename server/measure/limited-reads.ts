import type { Attempt } from './jobs.ts';

type Run<T, O> = (task: T, options: { readonly signal: AbortSignal }) => Promise<O>;

/**
 * Runs tasks that nothing within can stop: each within a time, after which its thread is ended. One after the other, so that the time of one
 * is its own, and the other threads stay free for edits.
 * @param run ends the thread of the task when the signal comes, and rejects
 */
export function limitedReads<T, O>(run: Run<T, O>, ms: number): (task: T) => Promise<O | Attempt<never>> {
  let last: Promise<unknown> = Promise.resolve();
  return (task) => {
    const mine = last.then(() => withinLimit((signal) => run(task, { signal }), ms));
    last = mine.catch(() => {});
    return mine;
  };
}

async function withinLimit<O>(run: (signal: AbortSignal) => Promise<O>, ms: number): Promise<O | Attempt<never>> {
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), ms);
  try {
    return await run(stop.signal);
  } catch (error) {
    if (!stop.signal.aborted) throw error;
    const message = `Expected a part file that is read within ${ms / 1000} s, this one was not. Export it coarser, piece by piece, or as STL.`;
    return { ok: false, problem: { code: 'took-too-long', message } };
  } finally {
    clearTimeout(timer);
  }
}
