import type { KernelExports } from './kernel-instance.ts';

/** Where a call begins and ends in what is shared out. */
type Bound = 'from' | 'to';

/** A question to a kernel that can be answered in parts, each by whichever thread comes first. Lengths as the kernel has them. */
export interface Shares {
  /** Called once by every thread before its first part. */
  readonly before?: readonly [name: keyof KernelExports, ...numbers: readonly number[]];
  /** Called for every part. */
  readonly each: readonly [name: keyof KernelExports, ...numbers: readonly (number | Bound)[]];
  /** How much there is in all, and how much of it a part is. */
  readonly total: number;
  readonly part: number;
}

/** The words of a board: the next part, who is at work (below CLOSED) and whether none may join any more, who joined, whether one broke down. */
const [NEXT, AT_WORK, JOINED, BROKEN] = [0, 1, 2, 3] as const;
const CLOSED = 1 << 16;
/** Longest that a part may take, ms (own: a part takes a hundredth of a second). */
const LONGEST_MS = 60_000;

/** A board on which threads that share a question see what is left of it. */
export const newBoard = (): Int32Array<SharedArrayBuffer> => new Int32Array(new SharedArrayBuffer(16));

/** Takes parts until there are none. */
export function takeShares(board: Int32Array, shares: Shares, run: KernelExports): void {
  const { before, each, total, part } = shares;
  if (before) call(run, before[0], before.slice(1) as number[]);
  for (;;) {
    const from = Atomics.add(board, NEXT, 1) * part;
    if (from >= total) return;
    const to = Math.min(total, from + part);
    const numbers = each.slice(1).map((one) => (one === 'from' ? from : one === 'to' ? to : Number(one)));
    call(run, each[0], numbers);
  }
}

/** Every export of a kernel takes numbers and nothing else. */
const call = (run: KernelExports, name: keyof KernelExports, numbers: readonly number[]): unknown =>
  (run[name] as (...all: readonly number[]) => unknown)(...numbers);

/** Takes parts of another thread's question, unless that has ended already. Tells the board when it breaks down, and throws never. */
export function joinShares(board: Int32Array, shares: Shares, start: () => KernelExports): void {
  for (let seen = Atomics.load(board, AT_WORK); ; seen = Atomics.load(board, AT_WORK)) {
    if (seen >= CLOSED) return;
    if (Atomics.compareExchange(board, AT_WORK, seen, seen + 1) === seen) break;
  }
  Atomics.add(board, JOINED, 1);
  try {
    takeShares(board, shares, start());
  } catch {
    Atomics.store(board, BROKEN, 1);
  }
  Atomics.sub(board, AT_WORK, 1);
  Atomics.notify(board, AT_WORK);
}

/** How a shared question ended. */
export interface SharedEnd {
  /** Threads that helped. */
  readonly joined: number;
  /** False when one of them broke down: then what it took is not there. */
  readonly whole: boolean;
}

/** Lets nobody join any more and waits for those at work. @throws Error when one of them does not answer */
export function closeShares(board: Int32Array<SharedArrayBuffer>): SharedEnd {
  Atomics.or(board, AT_WORK, CLOSED);
  for (;;) {
    const seen = Atomics.load(board, AT_WORK);
    if (seen === CLOSED) return { joined: Atomics.load(board, JOINED), whole: Atomics.load(board, BROKEN) === 0 };
    if (Atomics.wait(board, AT_WORK, seen, LONGEST_MS) === 'timed-out')
      throw new Error(`a thread that helps to measure did not answer within ${LONGEST_MS / 1000} s`);
  }
}
