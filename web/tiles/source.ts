import type { Tile, TileIndex } from '../../shared/geometry/tiles.ts';
import { tilesOf } from '../../shared/geometry/tiles.ts';
import type { DecodedTile } from './decode.ts';

/** Bytes asked for at a time (own: long enough to be worth a request, short enough for the next one to be needed more). */
const MOST_BYTES = 192 * 1024;
/** Requests on their way at a time, of one scan. */
const AT_ONCE = 3;
/** Points kept though nothing asks for them, in case the eye turns back (own: 8 MB). */
const SPARE_POINTS = 1_000_000;

/** What a source gets its tiles with. */
export interface TilePort {
  /** The bytes `from` to `end` of a scan's tiles; `again` asks past every cache. */
  readonly fetch: (from: number, end: number, again: boolean) => Promise<ArrayBuffer>;
  /** Unpacks tiles that lie in the bytes one after the other. */
  readonly decode: (bytes: ArrayBuffer, tiles: readonly TileCut[]) => Promise<readonly DecodedTile[]>;
  /** Told what could not be had; the rest goes on. */
  readonly trouble: (problem: string) => void;
}

/** A tile's share of some bytes. */
export interface TileCut {
  readonly bytes: number;
  readonly count: number;
}

/** Tiles next to one another in the bytes and of one level: what is asked for together. */
interface Stretch {
  readonly tiles: readonly Tile[];
  readonly from: number;
  readonly end: number;
}

/** A scan's tiles: those that are here, and a way to ask for others. */
export class TileSource {
  readonly index: TileIndex;
  readonly tiles: readonly Tile[];
  private readonly port: TilePort;
  private readonly stretches: readonly Stretch[];
  private readonly stretchOf: readonly number[];
  /** Points by tile, the tile wanted last at the end. */
  private readonly here = new Map<number, Uint16Array<ArrayBuffer>>();
  private readonly coming = new Set<number>();
  /** Stretches not asked for again: they came damaged twice, or the server has them not. */
  private readonly given = new Set<number>();
  private wanted: readonly number[] = [];
  private readonly listeners = new Set<() => void>();

  constructor(index: TileIndex, port: TilePort) {
    this.index = index;
    this.tiles = tilesOf(index);
    this.port = port;
    this.stretches = stretchesOf(this.tiles);
    this.stretchOf = this.stretches.flatMap(({ tiles }, i) => tiles.map(() => i));
  }

  /** The points of a tile, four numbers each; undefined while it is not here. */
  points(tile: number): Uint16Array<ArrayBuffer> | undefined {
    return this.here.get(tile);
  }

  /** Says which tiles are to be shown, most needed first; what is asked for already still comes. */
  want(tiles: readonly number[]): void {
    this.wanted = tiles;
    this.forget();
    this.next();
  }

  /** Calls back whenever tiles have come; call what it gives to stop that. */
  onLoaded(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  private next(): void {
    for (const tile of this.wanted) {
      if (this.coming.size >= AT_ONCE) return;
      const number = this.stretchOf[tile];
      const stretch = number === undefined ? undefined : this.stretches[number];
      if (number === undefined || !stretch || this.here.has(tile) || this.coming.has(number) || this.given.has(number))
        continue;
      this.coming.add(number);
      void this.load(number, stretch);
    }
  }

  private async load(number: number, stretch: Stretch): Promise<void> {
    try {
      const problem = (await this.take(stretch, false)) && (await this.take(stretch, true));
      if (problem) {
        this.given.add(number);
        this.port.trouble(problem);
      }
    } catch (error) {
      this.given.add(number);
      this.port.trouble(error instanceof Error ? error.message : String(error));
    }
    this.coming.delete(number);
    this.forget();
    for (const listener of this.listeners) listener();
    this.next();
  }

  /** Fetches a stretch and keeps what of it is whole; gives what was wrong with the rest. */
  private async take({ tiles, from, end }: Stretch, again: boolean): Promise<string | null> {
    const bytes = await this.port.fetch(from, end, again);
    if (bytes.byteLength !== end - from) return `expected ${end - from} bytes, got ${bytes.byteLength}`;
    const decoded = await this.port.decode(bytes, tiles);
    let problem: string | null = null;
    for (const [i, tile] of tiles.entries()) {
      const one = decoded[i];
      if (one?.ok) this.here.set(tile.number, one.points);
      else problem = one?.problem ?? 'it was not unpacked';
    }
    return problem;
  }

  /** Lets go of what nobody asks for, the oldest first, down to what is kept to spare. */
  private forget(): void {
    const wanted = new Set(this.wanted);
    const spare = [...this.here].filter(([tile]) => !wanted.has(tile));
    let points = spare.reduce((sum, [, list]) => sum + list.length / 4, 0);
    for (const [tile, list] of spare) {
      if (points <= SPARE_POINTS) return;
      this.here.delete(tile);
      points -= list.length / 4;
    }
  }

  /** Asks again for what could not be had: for when the link is back. */
  retry(): void {
    this.given.clear();
    this.next();
  }
}

/** The same stretches for every look and every browser, so that each is kept under one address. */
function stretchesOf(tiles: readonly Tile[]): Stretch[] {
  const all: { tiles: Tile[]; from: number; end: number }[] = [];
  for (const tile of tiles) {
    const last = all.at(-1);
    const end = tile.from + tile.bytes;
    if (last && last.tiles[0]?.level === tile.level && end - last.from <= MOST_BYTES) {
      last.tiles.push(tile);
      last.end = end;
    } else all.push({ tiles: [tile], from: tile.from, end });
  }
  return all;
}
