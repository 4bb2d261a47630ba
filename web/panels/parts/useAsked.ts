import { useEffect, useState } from 'react';

/** What was asked for: undefined while it is being measured, else the answer or why there is none. */
export type Asked<A> = { readonly answer: A } | { readonly problem: string } | undefined;

/** Asks when `key` changes and gives up when the panel goes. */
export function useAsked<A>(key: string, ask: (stop: AbortSignal) => Promise<A>): Asked<A> {
  const [asked, setAsked] = useState<{ readonly key: string; readonly is: Asked<A> }>({ key, is: undefined });
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key says what is asked.
  useEffect(() => {
    const stop = new AbortController();
    ask(stop.signal).then(
      (answer) => !stop.signal.aborted && setAsked({ key, is: { answer } }),
      (error: Error) => !stop.signal.aborted && setAsked({ key, is: { problem: error.message } }),
    );
    return () => stop.abort(new Error('no longer wanted'));
  }, [key]);
  return asked.key === key ? asked.is : undefined;
}
