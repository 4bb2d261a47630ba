/** A source of numbers evenly spread over [0, 1). Always handed in, so every caller can be replayed. */
export type Random = () => number;

/**
 * A small repeatable generator: the same seed gives the same numbers on every machine. For test and demo data, never for secrets.
 * Source: mulberry32, a public-domain 32-bit mixer with period 2^32 (memory).
 * @param seed any integer; only its low 32 bits count
 */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** One draw from the normal distribution with mean 0 and standard deviation 1 (Box-Muller). */
export function gaussian(random: Random): number {
  const radius = Math.sqrt(-2 * Math.log(1 - random()));
  return radius * Math.cos(2 * Math.PI * random());
}
