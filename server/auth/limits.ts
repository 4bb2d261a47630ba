import { RateLimiterMemory, RateLimiterRes } from 'rate-limiter-flexible';

/** How many tries somebody has; kept in memory, so a restart forgives. */
export interface SignInLimits {
  readonly perAccount: { readonly tries: number; readonly seconds: number };
  readonly perAddress: { readonly tries: number; readonly seconds: number };
}

export const defaultSignInLimits: SignInLimits = {
  perAccount: { tries: 5, seconds: 15 * 60 },
  perAddress: { tries: 30, seconds: 3_600 },
};

export interface TryLimiter {
  /** Counts a try before it is made, so many at once can't slip through; returns the seconds to wait if it is one too many. */
  count(who: { login?: string; address: string }): Promise<number | undefined>;
  /** Takes back what a try that turned out right had counted. */
  forgive(who: { login?: string; address: string }): Promise<void>;
}

export function tryLimiter({ perAccount, perAddress }: SignInLimits): TryLimiter {
  const accounts = new RateLimiterMemory({
    keyPrefix: 'account',
    points: perAccount.tries,
    duration: perAccount.seconds,
  });
  const addresses = new RateLimiterMemory({
    keyPrefix: 'address',
    points: perAddress.tries,
    duration: perAddress.seconds,
  });
  return {
    count: async ({ login, address }) =>
      (await wait(addresses, address)) ?? (login === undefined ? undefined : await wait(accounts, login)),
    forgive: async ({ login, address }) => {
      await addresses.reward(address, 1);
      if (login !== undefined) await accounts.delete(login);
    },
  };
}

async function wait(limiter: RateLimiterMemory, key: string): Promise<number | undefined> {
  try {
    await limiter.consume(key);
    return undefined;
  } catch (refused) {
    if (refused instanceof RateLimiterRes) return Math.max(1, Math.ceil(refused.msBeforeNext / 1000));
    throw refused;
  }
}
