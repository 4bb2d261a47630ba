/** Places this near count as the same, as a share of where they are: a few last bits. */
const SAME = 4 * Number.EPSILON;

/**
 * Where `excess` falls through zero between `low` and `high`, to a few last bits; null when it does not start at or above zero and end
 * at or below it, or is NaN on the way. `excess` must be monotone for the answer to be the only one.
 * Method: Chandrupatla 1997 (from memory): inverse quadratic steps where three points say that these are safe, halves elsewhere.
 */
export function fallingRoot(excess: (x: number) => number, low: number, high: number): number | null {
  let newest = { x: high, y: excess(high) };
  let across = { x: low, y: excess(low) };
  if (!(across.y >= 0 && newest.y <= 0)) return null;
  let before = newest;
  let share = 0.5;
  // A dozen steps do; the bound is for an excess that is not as promised.
  for (let i = 0; i < 200; i++) {
    const best = Math.abs(newest.y) < Math.abs(across.y) ? newest : across;
    const least = (SAME * Math.abs(best.x)) / Math.abs(across.x - newest.x);
    if (best.y === 0 || !(least < 0.5)) return best.x;
    const x = newest.x + Math.min(Math.max(share, least), 1 - least) * (across.x - newest.x);
    const tried = { x, y: excess(x) };
    if (Number.isNaN(tried.y)) return null;
    before = newest;
    // The bracket is what lies between the newest place and the last one on the other side of zero.
    if (tried.y > 0 !== newest.y > 0) [before, across] = [across, newest];
    newest = tried;
    share = nextShare(newest, across, before);
  }
  return newest.x;
}

interface Tried {
  readonly x: number;
  readonly y: number;
}

/** How far to go from the newest place towards the other end of the bracket. */
function nextShare(a: Tried, b: Tried, c: Tried): number {
  const xi = (a.x - b.x) / (c.x - b.x);
  const phi = (a.y - b.y) / (c.y - b.y);
  if (!(phi ** 2 < xi && (1 - phi) ** 2 < 1 - xi)) return 0.5;
  const direct = (a.y / (b.y - a.y)) * (c.y / (b.y - c.y));
  return direct + ((c.x - a.x) / (b.x - a.x)) * (a.y / (c.y - a.y)) * (b.y / (c.y - b.y));
}
