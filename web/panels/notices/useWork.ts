import { useState } from 'react';
import { problemWords } from '../revisions/when.ts';

/** Does one thing at a time and keeps what went wrong with the last, in words. */
export function useWork(): {
  readonly problem: string | null;
  readonly busy: boolean;
  /** True when it was done. */
  readonly work: (task: () => Promise<void>) => Promise<boolean>;
} {
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const work = async (task: () => Promise<void>): Promise<boolean> => {
    setProblem(null);
    setBusy(true);
    try {
      await task();
      return true;
    } catch (error) {
      setProblem(problemWords(error));
      return false;
    } finally {
      setBusy(false);
    }
  };
  return { problem, busy, work };
}
