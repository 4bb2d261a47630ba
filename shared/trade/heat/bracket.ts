/**
 * Where `excess` falls through zero between `low` and `high`, by bisection to the last bit; null when it does not start at or above
 * zero and end at or below it, or is NaN at an end. `excess` must be monotone for the answer to be the only one.
 */
export function fallingRoot(excess: (x: number) => number, low: number, high: number): number | null {
  if (!(excess(low) >= 0 && excess(high) <= 0)) return null;
  let [a, b] = [low, high];
  for (let i = 0; i < 200; i++) {
    const middle = (a + b) / 2;
    if (middle <= a || middle >= b) break;
    if (excess(middle) >= 0) a = middle;
    else b = middle;
  }
  return (a + b) / 2;
}
