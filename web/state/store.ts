import { useSyncExternalStore } from 'react';

/** A value that can be watched. `set` keeps the old value when it is identical. */
export interface Store<T> {
  get(): T;
  set(value: T): void;
  subscribe(listener: () => void): () => void;
}

export function createStore<T>(initial: T): Store<T> {
  let value = initial;
  const listeners = new Set<() => void>();
  return {
    get: () => value,
    set(next) {
      if (Object.is(next, value)) return;
      value = next;
      for (const listener of [...listeners]) listener();
    },
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

/** A part of the store's value; re-renders when that part is another one. `part` must give the same object for the same value. */
export function usePart<T, P>(store: Pick<Store<T>, 'get' | 'subscribe'>, part: (value: T) => P): P {
  return useSyncExternalStore(store.subscribe, () => part(store.get()));
}

/** Re-renders when the store's value changes. */
export function useStore<T>(store: Pick<Store<T>, 'get' | 'subscribe'>): T {
  return useSyncExternalStore(store.subscribe, store.get);
}
