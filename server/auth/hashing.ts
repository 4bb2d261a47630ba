import { hash, verify } from '@node-rs/argon2';

export interface PasswordHashing {
  hash(password: string): Promise<string>;
  /** With no stored hash it takes as long as with one, so an answer's delay tells nobody which logins exist. */
  verify(stored: string | undefined, password: string): Promise<boolean>;
}

/** OWASP's minimum for argon2id: 19 MiB, 2 passes, 1 lane. The algorithm is the library's default. */
const cost = { memoryCost: 19_456, timeCost: 2, parallelism: 1 };

/** Two at a time: more would take the processors from people who edit while others sign in. */
const SLOTS = 2;

export function passwordHashing(): PasswordHashing {
  const inSlot = slots(SLOTS);
  let decoy: Promise<string> | undefined;
  return {
    hash: (password) => inSlot(() => hash(password.normalize('NFC'), cost)),
    verify: (stored, password) =>
      inSlot(async () => {
        decoy ??= hash('nobody has this password', cost);
        const right = await verify(stored ?? (await decoy), password.normalize('NFC'));
        return right && stored !== undefined;
      }),
  };
}

/** Runs at most `count` pieces of work at once, the rest in the order they came. */
export function slots(count: number): <T>(work: () => Promise<T>) => Promise<T> {
  const waiting: (() => void)[] = [];
  let free = count;
  return async (work) => {
    if (free > 0) free--;
    else await new Promise<void>((resolve) => waiting.push(resolve));
    try {
      return await work();
    } finally {
      const next = waiting.shift();
      // The slot is handed on, not freed: a newcomer can't overtake who waits.
      if (next) next();
      else free++;
    }
  };
}
