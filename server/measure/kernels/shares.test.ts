import { describe, expect, it } from 'vitest';
import type { KernelExports } from './kernel-instance.ts';
import { closeShares, joinShares, newBoard, type Shares, takeShares } from './shares.ts';

const question: Shares = {
  before: ['takeOrder', 1, 2, 3, 4],
  each: ['cutRanges', 7, 'from', 'to', 9],
  total: 103,
  part: 10,
};

/** Exports that write down how they are called. */
function written(more: Partial<KernelExports> = {}) {
  const calls: (readonly (string | number)[])[] = [];
  const run = {
    takeOrder: (...numbers: number[]) => void calls.push(['takeOrder', ...numbers]),
    cutRanges: (...numbers: number[]) => void calls.push(['cutRanges', ...numbers]),
    ...more,
  } as unknown as KernelExports;
  return { calls, run };
}

/** What was asked for of the 103, each once. */
function places(calls: readonly (readonly (string | number)[])[]): number[] {
  const all = calls.filter(([name]) => name === 'cutRanges').map((call) => [Number(call[2]), Number(call[3])] as const);
  return all.flatMap(([from, to]) => Array.from({ length: to - from }, (_, i) => from + i)).sort((a, b) => a - b);
}

const everyPlace = Array.from({ length: 103 }, (_, i) => i);

describe('a question in parts', () => {
  it('is answered whole by one thread, what comes before is said once, and numbers stand where they belong', () => {
    const { calls, run } = written();
    takeShares(newBoard(), question, run);
    expect(calls[0]).toEqual(['takeOrder', 1, 2, 3, 4]);
    expect(calls[1]).toEqual(['cutRanges', 7, 0, 10, 9]);
    expect(calls.at(-1)).toEqual(['cutRanges', 7, 100, 103, 9]);
    expect(calls).toHaveLength(12);
    expect(places(calls)).toEqual(everyPlace);
  });

  it('is answered once by two, who take turns', () => {
    const board = newBoard();
    const helper = written();
    // The second joins in the middle of the first one's part.
    const owner = written({
      cutRanges: (...numbers: number[]) => {
        owner.calls.push(['cutRanges', ...numbers]);
        if (numbers[1] === 30) joinShares(board, { ...question, part: 10 }, () => helper.run);
      },
    });
    takeShares(board, question, owner.run);
    expect(closeShares(board)).toEqual({ joined: 1, whole: true });
    expect(helper.calls[0]).toEqual(['takeOrder', 1, 2, 3, 4]);
    expect(places(owner.calls)).toHaveLength(40);
    expect(places([...owner.calls, ...helper.calls])).toEqual(everyPlace);
  });

  it('is joined by nobody after its end', () => {
    const board = newBoard();
    const late = written();
    expect(closeShares(board)).toEqual({ joined: 0, whole: true });
    joinShares(board, question, () => late.run);
    expect(late.calls).toEqual([]);
  });

  it.each<[string, () => KernelExports]>([
    [
      'that does not start',
      () => {
        throw new Error('no memory');
      },
    ],
    [
      'that breaks down over a part',
      () =>
        written({
          cutRanges: () => {
            throw new Error('out of bounds');
          },
        }).run,
    ],
  ])('tells of a helper %s', (_, start) => {
    const board = newBoard();
    expect(() => joinShares(board, question, start)).not.toThrow();
    expect(closeShares(board)).toEqual({ joined: 1, whole: false });
  });
});
