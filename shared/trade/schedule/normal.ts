const rootTwoPi = Math.sqrt(2 * Math.PI);

/** Standard normal probability of at most `z`; full double precision, relative in the lower tail. Infinite z gives 0 or 1, NaN stays NaN. Source: any text on probability. */
export function normalProbability(z: number): number {
  if (Number.isNaN(z)) return Number.NaN;
  if (z > 0) return 1 - normalProbability(-z);
  if (z < -3) return lowerTail(-z);
  let term = z;
  let sum = z;
  for (let k = 3; Math.abs(term) > 1e-18; k += 2) {
    term *= (z * z) / k;
    sum += term;
  }
  return 0.5 + (sum * Math.exp(-z * z * 0.5)) / rootTwoPi;
}

/** Share beyond `z` > 3 by Laplace's continued fraction. */
function lowerTail(z: number): number {
  let fraction = 0;
  for (let k = 120; k >= 1; k--) fraction = k / (z + fraction);
  return Math.exp(-z * z * 0.5) / (rootTwoPi * (z + fraction));
}

/** z with `normalProbability(z)` = `probability`; infinite at 0 and 1, NaN outside. Bisection: exact to the last bits and never far off. */
export function normalQuantile(probability: number): number {
  if (!(probability >= 0 && probability <= 1)) return Number.NaN;
  if (probability > 0.5) return -normalQuantile(1 - probability);
  if (probability === 0) return Number.NEGATIVE_INFINITY;
  let [low, high] = [-39, 0];
  for (let i = 0; i < 80; i++) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high) break;
    if (normalProbability(middle) < probability) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
