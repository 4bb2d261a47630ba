import { createHash } from 'node:crypto';
import type { Clock, Random } from '../../server/ambient.ts';

export interface TestClock {
  readonly now: Clock;
  advance(milliseconds: number): void;
}

/** Stands still unless advanced. */
export function testClock(start = Date.UTC(2026, 0, 1)): TestClock {
  let at = start;
  return {
    now: () => at,
    advance: (milliseconds) => {
      at += milliseconds;
    },
  };
}

/** The same bytes on every run for the same seed: SHA-256 over a counter. */
export function seededRandom(seed: number): Random {
  let counter = 0;
  return (bytes) => {
    const out = new Uint8Array(bytes);
    for (let at = 0; at < bytes; at += 32) {
      const block = createHash('sha256').update(`${seed}:${counter++}`).digest();
      out.set(block.subarray(0, bytes - at), at);
    }
    return out;
  };
}
