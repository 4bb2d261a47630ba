import { useEffect, useState } from 'react';
import { problemWords } from './when.ts';

/** What was asked for, as far as it is there. */
export type Fetched<T> =
  | { readonly state: 'waiting' }
  | { readonly state: 'there'; readonly value: T }
  | { readonly state: 'problem'; readonly text: string };

/** Fetches anew whenever `key` is another one; answers to an earlier key are dropped. */
export function useFetched<T>(key: string, fetch: () => Promise<T>): Fetched<T> {
  const [got, setGot] = useState<{ readonly key: string; readonly fetched: Fetched<T> } | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key says what is fetched.
  useEffect(() => {
    let wanted = true;
    const show = (fetched: Fetched<T>): void => {
      if (wanted) setGot({ key, fetched });
    };
    fetch().then(
      (value) => show({ state: 'there', value }),
      (error: unknown) => show({ state: 'problem', text: problemWords(error) }),
    );
    return () => {
      wanted = false;
    };
  }, [key]);
  return got?.key === key ? got.fetched : { state: 'waiting' };
}
