import { type Known, known } from '../../units/known.ts';
import { inconsistent } from '../data/validity.ts';
import { betaShape, type Estimate, estimateFault } from './estimate.ts';

/** How a duration is spread between its estimates. */
export type Spread = 'beta-pert' | 'triangle';

/** Turns a uniform number from 0 to 1 into a duration: the inverse of its distribution, so that draws can share a common cause. */
export type DurationDraw = (uniform: number) => number;

/** Cells of the tabulated beta distribution; halving them moves no mean by more than 1e-5 of the spread. */
const cells = 2048;

/** Draw of an estimate; one without spread always gives its single value. A bad order: inconsistent. */
export function durationDraw(estimate: Estimate, spread: Spread): Known<DurationDraw> {
  const wrong = estimateFault(estimate);
  if (wrong) return inconsistent(`duration: ${wrong}`);
  const { optimistic, pessimistic } = estimate;
  if (pessimistic === optimistic) return known(() => optimistic);
  return spread === 'triangle' ? known(triangle(estimate)) : betaDraw(estimate);
}

function triangle({ optimistic, likely, pessimistic }: Estimate): DurationDraw {
  const width = pessimistic - optimistic;
  const rise = likely - optimistic;
  const fall = pessimistic - likely;
  return (u) =>
    u * width < rise ? optimistic + Math.sqrt(u * width * rise) : pessimistic - Math.sqrt((1 - u) * width * fall);
}

function betaDraw(estimate: Estimate): Known<DurationDraw> {
  const shape = betaShape(estimate);
  if (!shape.known) return shape;
  const { alpha, beta } = shape.value;
  const cumulative = [0];
  let sum = 0;
  for (let i = 0; i < cells; i++) {
    const x = (i + 0.5) / cells;
    sum += x ** (alpha - 1) * (1 - x) ** (beta - 1);
    cumulative.push(sum);
  }
  const width = estimate.pessimistic - estimate.optimistic;
  // At the top the cells are too thin to raise the sum: 1 is answered by definition.
  return known((u) => (u >= 1 ? estimate.pessimistic : estimate.optimistic + width * inverse(cumulative, u * sum)));
}

/** Place 0 to 1 at which a rising table reaches `wanted`, straight inside a cell. */
function inverse(cumulative: readonly number[], wanted: number): number {
  let [low, high] = [0, cumulative.length - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((cumulative[middle] ?? Number.NaN) <= wanted) low = middle;
    else high = middle;
  }
  const [before, after] = [cumulative[low] ?? 0, cumulative[high] ?? 0];
  const within = after > before ? (wanted - before) / (after - before) : 0;
  return Math.min(1, (low + within) / (cumulative.length - 1));
}
