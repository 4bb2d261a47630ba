import { type Known, known, unknown } from '../../units/known.ts';
import { contradiction } from '../limits.ts';

/** Pieces per stock length, as indices into the list of pieces. */
export type CutPlan = readonly (readonly number[])[];

/** Stock, pieces and saw cut in one unit: m for tube, rad for bends (see kerf-angle). */
export interface CutJob {
  readonly stock: number;
  readonly pieces: readonly number[];
  readonly kerf: number;
}

/** Each piece pays its cut, the last cut of a stock length does not exist: capacity and sizes in that accounting. */
interface Packing {
  readonly capacity: number;
  readonly sizes: readonly number[];
}

function packingOf({ stock, pieces, kerf }: CutJob): Known<Packing> {
  if (!(stock > 0 && kerf >= 0 && Number.isFinite(stock + kerf)))
    return contradiction(`cutting stock: expected stock > 0 and kerf >= 0, got ${stock} and ${kerf}`);
  if (pieces.length > 500) return contradiction(`cutting stock: expected at most 500 pieces, got ${pieces.length}`);
  const bad = pieces.findIndex((piece) => !(piece > 0 && piece <= stock));
  if (bad >= 0)
    return contradiction(
      `cutting stock: expected piece ${bad + 1} above 0 and at most the stock ${stock}, got ${pieces[bad]}`,
    );
  return known({ capacity: (stock + kerf) * (1 + 1e-12), sizes: pieces.map((piece) => piece + kerf) });
}

const fallingOrder = (sizes: readonly number[]): number[] =>
  sizes.map((_, i) => i).sort((a, b) => (sizes[b] ?? 0) - (sizes[a] ?? 0) || a - b);

type Choice = (room: readonly number[], need: number) => number;
const firstFit: Choice = (room, need) => room.findIndex((left) => left >= need);
const bestFit: Choice = (room, need) => {
  let best = -1;
  room.forEach((left, i) => {
    if (left >= need && (best < 0 || left < (room[best] ?? 0))) best = i;
  });
  return best;
};

function decreasing({ capacity, sizes }: Packing, choose: Choice): CutPlan {
  const room: number[] = [];
  const plan: number[][] = [];
  for (const piece of fallingOrder(sizes)) {
    const need = sizes[piece] ?? 0;
    const bin = choose(room, need);
    if (bin < 0) {
      room.push(capacity - need);
      plan.push([piece]);
    } else {
      room[bin] = (room[bin] ?? 0) - need;
      plan[bin]?.push(piece);
    }
  }
  return plan;
}

/** First-fit decreasing plan: at most 11/9 of the best plus 6/9 (memory). */
export function firstFitDecreasing(job: CutJob): Known<CutPlan> {
  const packing = packingOf(job);
  return packing.known ? known(decreasing(packing.value, firstFit)) : packing;
}

/** Best-fit decreasing plan. */
export function bestFitDecreasing(job: CutJob): Known<CutPlan> {
  const packing = packingOf(job);
  return packing.known ? known(decreasing(packing.value, bestFit)) : packing;
}

/** Lower bounds of the number of stock lengths: by volume (L1) and by large pieces (L2, Martello and Toth, from memory). */
export interface CutBounds {
  readonly volume: number;
  readonly largePieces: number;
}

/** Lower bounds of a job. */
export function cutBounds(job: CutJob): Known<CutBounds> {
  const packing = packingOf(job);
  return packing.known ? known(boundsOf(packing.value)) : packing;
}

/** Whole stock lengths that `amount` needs, none for what fits into room that is there; a hair over is rounding. */
const lengths = (amount: number, capacity: number) => Math.max(0, Math.ceil(amount / capacity - 1e-9));
const total = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0);

function boundsOf({ capacity, sizes }: Packing): CutBounds {
  const half = capacity / 2;
  let largePieces = 0;
  for (const small of [0, ...sizes.filter((size) => size <= half)]) {
    const alone = sizes.filter((size) => size > capacity - small);
    const large = sizes.filter((size) => size > half && size <= capacity - small);
    const rest = sizes.filter((size) => size >= small && size <= half);
    const spill = lengths(total(rest) - (large.length * capacity - total(large)), capacity);
    largePieces = Math.max(largePieces, alone.length + large.length + spill);
  }
  return { volume: lengths(total(sizes), capacity), largePieces };
}

/**
 * Fewest stock lengths, by completing one length at a time with the largest piece left (bin completion). `effort` caps the search steps: a
 * job that needs more is unknown, never a guess. Source: own search; published instances are its tests.
 */
export function bestCutPlan(job: CutJob, effort = 2_000_000): Known<CutPlan> {
  const packing = packingOf(job);
  if (!packing.known) return packing;
  const start = decreasing(packing.value, bestFit);
  const bounds = boundsOf(packing.value);
  const least = Math.max(bounds.volume, bounds.largePieces);
  const search = new Search(packing.value, effort);
  for (let count = least; count < start.length; count++) {
    const found = search.into(count);
    if (found) return known(found);
    if (search.spent)
      return unknown({
        reason: 'inconsistent',
        detail: `cutting stock: expected a best plan within ${effort} steps, got none; between ${count} and ${start.length} lengths`,
        paths: [],
      });
  }
  return known(start);
}

/** Depth-first search for a plan with a given number of lengths. */
class Search {
  private steps = 0;
  private readonly packing: Packing;
  private readonly effort: number;
  /** Pieces left with lengths left that were tried in vain. */
  private readonly dead = new Set<string>();

  constructor(packing: Packing, effort: number) {
    this.packing = packing;
    this.effort = effort;
  }

  get spent(): boolean {
    return this.steps > this.effort;
  }

  into(count: number): CutPlan | null {
    const { capacity, sizes } = this.packing;
    return this.fill(fallingOrder(sizes), count, count * capacity - total(sizes));
  }

  /** Fills one length with the largest piece left and the rest with the others; `waste` is what may still be left empty. */
  private fill(left: readonly number[], count: number, waste: number): CutPlan | null {
    const [largest] = left;
    if (largest === undefined) return [];
    const key = `${count}:${left.map((piece) => this.packing.sizes[piece]).join()}`;
    if (this.dead.has(key) || this.hopeless(left, count)) return null;
    const room = this.packing.capacity - (this.packing.sizes[largest] ?? 0);
    for (const others of this.completions(left.slice(1), room, waste)) {
      if (this.spent) return null;
      const taken = new Set([largest, ...others.pieces]);
      const after = left.filter((piece) => !taken.has(piece));
      const rest = this.fill(after, count - 1, waste - others.unused);
      if (rest) return [[largest, ...others.pieces], ...rest];
    }
    if (!this.spent) this.dead.add(key);
    return null;
  }

  private hopeless(left: readonly number[], count: number): boolean {
    const sizes = left.map((piece) => this.packing.sizes[piece] ?? 0);
    const { volume, largePieces } = boundsOf({ capacity: this.packing.capacity, sizes });
    return Math.max(volume, largePieces) > count;
  }

  /** Sets of `pieces` (falling) that fit in `room` and leave no more than `waste`, fullest first, one of each kind of equal pieces. */
  private completions(pieces: readonly number[], room: number, waste: number): { pieces: number[]; unused: number }[] {
    const found: { pieces: number[]; unused: number }[] = [];
    const slack = 1e-9 * this.packing.capacity;
    const choose = (from: number, unused: number, chosen: number[]) => {
      this.steps++;
      if (this.spent) return;
      const smallest = this.packing.sizes[pieces.at(-1) ?? -1] ?? Number.POSITIVE_INFINITY;
      if (unused <= waste + slack && !this.addable(pieces, chosen, unused)) found.push({ pieces: [...chosen], unused });
      if (unused < smallest) return;
      for (let i = from; i < pieces.length; i++) {
        const piece = pieces[i] ?? -1;
        const need = this.packing.sizes[piece] ?? 0;
        const twin = i > from && need === this.packing.sizes[pieces[i - 1] ?? -1];
        if (twin || need > unused) continue;
        choose(i + 1, unused - need, [...chosen, piece]);
      }
    };
    choose(0, room, []);
    return found.sort((a, b) => a.unused - b.unused);
  }

  /** Whether a piece left out would still fit: such a set is never better than the one with it. */
  private addable(pieces: readonly number[], chosen: readonly number[], unused: number): boolean {
    return pieces.some((piece) => !chosen.includes(piece) && (this.packing.sizes[piece] ?? 0) <= unused);
  }
}
