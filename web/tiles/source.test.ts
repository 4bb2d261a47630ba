import { beforeAll, describe, expect, it } from 'vitest';
import { encodeTiles } from '../../server/measure/tiles/encode.ts';
import { buildPointGrid } from '../../shared/geometry/cloud.ts';
import { seededRandom } from '../../shared/geometry/random.ts';
import { codecReady, decodeTile } from './decode.ts';
import { TileSource } from './source.ts';

beforeAll(() => codecReady);

interface Shop {
  readonly source: TileSource;
  readonly asked: string[];
  readonly troubles: string[];
  /** Resolves when nothing is on its way any more. */
  settled(): Promise<void>;
}

/** A source over real tiles; `spoil` may change what comes over the wire. */
async function shop(
  points = 60_000,
  spoil?: (bytes: Uint8Array, from: number, again: boolean) => Uint8Array,
): Promise<Shop> {
  const random = seededRandom(71);
  const grid = buildPointGrid(
    Float32Array.from({ length: 3 * points }, () => 0.4 * random()),
    [0, 0, 0],
  );
  const { index, tiles } = await encodeTiles(grid);
  const all = Buffer.concat(tiles);
  const asked: string[] = [];
  const troubles: string[] = [];
  const source = new TileSource(index, {
    fetch: async (from, end, again) => {
      asked.push(`${from}-${end}${again ? ' again' : ''}`);
      const bytes = Uint8Array.from(all.subarray(from, end));
      return Uint8Array.from(spoil?.(bytes, from, again) ?? bytes).buffer;
    },
    decode: async (bytes, cuts) => {
      let from = 0;
      return cuts.map((cut) => {
        const one = decodeTile(new Uint8Array(bytes, from, cut.bytes), cut.count);
        from += cut.bytes;
        return one;
      });
    },
    trouble: (problem) => troubles.push(problem),
  });
  const settled = async (): Promise<void> => {
    let before = -1;
    // Each load takes a few turns of the queue and starts the next.
    while (before !== asked.length) {
      before = asked.length;
      for (let turn = 0; turn < 20; turn++) await Promise.resolve();
    }
  };
  return { source, asked, troubles, settled };
}

const numbers = ({ tiles }: TileSource): number[] => tiles.map(({ number }) => number);

describe('tiles of a scan', () => {
  it('come when they are wanted, each byte once, and say that they came', async () => {
    const { source, asked, troubles, settled } = await shop();
    let told = 0;
    source.onLoaded(() => told++);
    source.want(numbers(source));
    await settled();
    for (const tile of source.tiles) expect(source.points(tile.number)).toHaveLength(4 * tile.count);
    const stretches = asked.map((text) => text.split('-').map(Number)).sort(([a = 0], [b = 0]) => a - b);
    let end = 0;
    for (const [from, to] of stretches) {
      expect(from).toBe(end);
      end = to ?? 0;
    }
    expect(end).toBe(source.tiles.reduce((sum, { bytes }) => sum + bytes, 0));
    expect([told, troubles]).toEqual([asked.length, []]);
    source.want(numbers(source));
    await settled();
    expect(asked).toHaveLength(stretches.length);
  });

  it('come in the order of need, and what is not wanted does not come', async () => {
    const { source, asked, settled } = await shop();
    const last = source.tiles.at(-1);
    source.want([last?.number ?? 0]);
    await settled();
    expect(asked).toHaveLength(1);
    expect(source.points(last?.number ?? 0)).toBeDefined();
    expect(source.points(0)).toBeUndefined();
  });

  it('that come damaged are asked for once more, past every cache', async () => {
    const flip = (bytes: Uint8Array, from: number, again: boolean) =>
      from === 0 && !again ? bytes.map((b, i) => (i === 30 ? b ^ 16 : b)) : bytes;
    const { source, asked, troubles, settled } = await shop(5000, flip);
    source.want(numbers(source));
    await settled();
    expect(asked.filter((text) => text.startsWith('0-'))).toEqual([asked[0], `${asked[0]} again`]);
    expect(source.points(0)).toBeDefined();
    expect(troubles).toEqual([]);
  });

  it('that stay damaged are told of once, and the rest is there', async () => {
    let whole = false;
    const flip = (bytes: Uint8Array, from: number) =>
      from === 0 && !whole ? bytes.map((b, i) => (i === 30 ? b ^ 16 : b)) : bytes;
    const { source, troubles, settled } = await shop(5000, flip);
    for (let i = 0; i < 3; i++) {
      source.want(numbers(source));
      await settled();
    }
    expect(troubles).toEqual(['its sum differs']);
    expect(source.points(0)).toBeUndefined();
    expect(source.tiles.slice(1).every(({ number }) => source.points(number) !== undefined)).toBe(true);
    whole = true;
    source.retry();
    await settled();
    expect(source.points(0)).toBeDefined();
  });

  it('that are cut short on the way are told of', async () => {
    const { source, troubles, settled } = await shop(5000, (bytes, from) => (from === 0 ? bytes.subarray(1) : bytes));
    source.want([0]);
    await settled();
    expect(troubles).toEqual([expect.stringMatching(/^expected \d+ bytes, got \d+$/)]);
  });

  it('that nobody wants any more go, but for a million points', async () => {
    const { source, settled } = await shop(1_300_000);
    source.want(numbers(source));
    await settled();
    const kept = () => source.tiles.reduce((sum, { number }) => sum + (source.points(number)?.length ?? 0) / 4, 0);
    expect(kept()).toBe(1_300_000);
    const first = source.tiles.find(({ level }) => level === 1)?.number ?? 0;
    source.want([first]);
    await settled();
    expect(kept()).toBeGreaterThan(900_000);
    expect(kept()).toBeLessThanOrEqual(1_000_000 + (source.tiles[first]?.count ?? 0));
    expect(source.points(first)).toBeDefined();
  });
});
