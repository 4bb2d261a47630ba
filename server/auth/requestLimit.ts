import { RateLimiterMemory, RateLimiterRes } from 'rate-limiter-flexible';

/** What an ordinary request costs; light ones, which a browser sends in crowds while it shows a scan or sends a file, cost 1. */
const ORDINARY = 10;

export interface RequestLimit {
  /** Counts a request of an account; the seconds to wait when it is one too many. */
  count(account: string, light: boolean): Promise<number | undefined>;
}

/** So many ordinary requests a minute for each account, or ten times as many light ones. In memory: a restart forgives. */
export function requestLimit(perMinute: number): RequestLimit {
  const limiter = new RateLimiterMemory({ keyPrefix: 'requests', points: perMinute * ORDINARY, duration: 60 });
  return {
    count: async (account, light) => {
      try {
        await limiter.consume(account, light ? 1 : ORDINARY);
        return undefined;
      } catch (refused) {
        if (refused instanceof RateLimiterRes) return Math.max(1, Math.ceil(refused.msBeforeNext / 1000));
        throw refused;
      }
    },
  };
}
