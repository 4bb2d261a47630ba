import { describe, expect, it } from 'vitest';
import { NEARNESS_FAR } from '../../shared/geometry/nearness.ts';
import { type TileIndex, tilesOf } from '../../shared/geometry/tiles.ts';
import type { AskedNearness } from '../../shared/protocol/nearness.ts';
import { NearnessSource } from './nearness.ts';
import { sumOf } from './sum.ts';

/** Four tiles of 3, 2, 4 and 1 points. */
const index: TileIndex = {
  version: 1,
  points: 10,
  origin: [0, 0, 0],
  stamp: '00000000',
  levels: [
    { voxel: 0.01, side: 1, step: 0.001, tiles: [0, 0, 0, 3, 9, 1, 0, 0, 2, 9] },
    { voxel: 0, side: 1, step: 0.001, tiles: [0, 0, 0, 4, 9, 1, 0, 0, 1, 9] },
  ],
};
const tiles = tilesOf(index);
const far = NEARNESS_FAR;

type Final = Exclude<AskedNearness, { state: 'pending' }>;

/** A server that has these levels, one list a tile. */
function answer(name: string, levels: readonly (readonly number[])[], leftOut: readonly [] = []): Final {
  const sums = levels.map((list) =>
    list.every((level) => level === far) ? '' : sumOf(Uint8Array.from(list)).toString(16).padStart(8, '0'),
  );
  return { state: 'there', name, cap: 0.06, tiles: sums, leftOut: [...leftOut] };
}

function shop() {
  const served = new Map<string, readonly (readonly number[])[]>();
  const [asked, troubles]: [string[], string[]] = [[], []];
  const waiting: { answer: (final: Final) => void; fail: (error: Error) => void }[] = [];
  const source = new NearnessSource(tiles, {
    ask: () => new Promise((resolve, reject) => waiting.push({ answer: resolve, fail: reject })),
    fetch: async (name, { from, end }) => {
      asked.push(`${name} ${from}-${end}`);
      const all = served.get(name);
      return all ? Uint8Array.from(all.flat().slice(from, end)).buffer : null;
    },
    trouble: (problem) => troubles.push(problem),
  });
  const settled = async (): Promise<void> => {
    for (let turn = 0; turn < 30; turn++) await Promise.resolve();
  };
  const tell = async (name: string, levels: readonly (readonly number[])[]): Promise<void> => {
    served.set(name, levels);
    source.refresh();
    waiting.at(-1)?.answer(answer(name, levels));
    await settled();
  };
  const shown = () => tiles.map(({ number }) => source.levels(number) && [...(source.levels(number) ?? [])]);
  return { source, served, asked, troubles, waiting, settled, tell, shown };
}

const first = [[1, 2, 3], [far, far], [7, 8, 9, far], [5]];

describe('how near the header is to tiles', () => {
  it('comes for the tiles that are wanted, neighbours together, and is made here where nothing is near', async () => {
    const { source, tell, shown, asked, settled } = shop();
    source.want([0, 1, 2]);
    await tell('a', first);
    expect(shown()).toEqual([[1, 2, 3], [far, far], [7, 8, 9, far], undefined]);
    expect(asked).toEqual(['a 0-3', 'a 5-9']);
    source.want([0, 1, 2, 3]);
    await settled();
    expect(shown()[3]).toEqual([5]);
    expect(asked).toEqual(['a 0-3', 'a 5-9', 'a 9-10']);
    expect(source.state).toEqual({ asking: false, loading: false, why: null, leftOut: [] });
  });

  it('after an edit comes only where it is another, in another array', async () => {
    const { source, tell, shown, asked } = shop();
    source.want([0, 1, 2, 3]);
    await tell('a', first);
    const [kept, old] = [source.levels(0), source.levels(2)];
    asked.length = 0;
    await tell('b', [[1, 2, 3], [4, far], [7, 8, 10, far], [5]]);
    expect(shown()).toEqual([[1, 2, 3], [4, far], [7, 8, 10, far], [5]]);
    expect(asked).toEqual(['b 3-9']);
    expect([source.levels(0) === kept, source.levels(2) === old]).toEqual([true, false]);
    await tell('c', [[far, far, far], [4, far], [7, 8, 10, far], [5]]);
    expect(shown()[0]).toEqual([far, far, far]);
    expect(asked).toEqual(['b 3-9']);
  });

  it('is not shown where it came damaged, and told of', async () => {
    const { source, tell, shown, served, troubles, waiting, settled } = shop();
    source.want([0, 1, 2, 3]);
    await tell('a', first);
    source.refresh();
    served.set('b', [[1, 2, 3], [far, far], [9, 9, 9, 9], [5]]);
    waiting.at(-1)?.answer(answer('b', [[1, 2, 3], [far, far], [6, 6, 6, 6], [5]]));
    await settled();
    expect(shown()).toEqual([[1, 2, 3], [far, far], undefined, [5]]);
    expect(troubles).toEqual(['its sum differs']);
  });

  it('is asked for anew when the server keeps it no more', async () => {
    const { source, tell, shown, served, troubles, waiting } = shop();
    source.want([0]);
    source.refresh();
    waiting.at(-1)?.answer(answer('lost', first));
    for (let turn = 0; turn < 30; turn++) await Promise.resolve();
    expect([waiting.length, source.state.asking]).toEqual([2, true]);
    expect(served.has('lost')).toBe(false);
    await tell('a', first);
    expect(shown()[0]).toEqual([1, 2, 3]);
    expect(troubles).toEqual([]);
  });

  it('of a header that is none is none: what was true of the one before goes', async () => {
    const { source, tell, shown, waiting, settled } = shop();
    source.want([0, 1, 2, 3]);
    await tell('a', first);
    source.refresh();
    expect(source.state.asking).toBe(true);
    expect(shown()[0]).toEqual([1, 2, 3]);
    waiting.at(-1)?.answer({ state: 'none', why: 'needs a thickness' });
    await settled();
    expect(shown()).toEqual([undefined, undefined, undefined, undefined]);
    expect(source.state).toEqual({ asking: false, loading: false, why: 'needs a thickness', leftOut: [] });
    source.refresh();
    waiting.at(-1)?.fail(new Error('the server cannot be reached'));
    await settled();
    expect(source.state.why).toBe('the server cannot be reached');
  });

  it('is the one asked for last, however late the others answer', async () => {
    const { source, served, shown, waiting, settled } = shop();
    source.want([0]);
    served.set('a', first);
    served.set('b', [[9, 9, 9], [far, far], [7, 8, 9, far], [5]]);
    source.refresh();
    source.refresh();
    waiting[1]?.answer(answer('b', served.get('b') ?? []));
    waiting[0]?.answer(answer('a', first));
    await settled();
    expect(shown()[0]).toEqual([9, 9, 9]);
  });
});
