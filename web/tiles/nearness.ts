import { NEARNESS_FAR } from '../../shared/geometry/nearness.ts';
import type { Tile } from '../../shared/geometry/tiles.ts';
import type { AskedNearness, LeftOut } from '../../shared/protocol/nearness.ts';
import { sumOf } from './sum.ts';

/** Points asked for at a time, a byte each. */
const MOST_POINTS = 192 * 1024;
/** Requests on their way at a time, of one scan. */
const AT_ONCE = 2;
/** Bytes kept though nothing asks for them, in case the eye turns back. */
const SPARE_BYTES = 1_000_000;

const GONE = 'the server keeps these levels no more';

/** What a source gets its levels with. */
export interface NearnessPort {
  /** How near the header is now, once that is measured. Rejects when it cannot be had. */
  readonly ask: (stop: AbortSignal) => Promise<Exclude<AskedNearness, { state: 'pending' }>>;
  /** The levels of the points `from` to `end`; null when the server keeps none of this name any more. Rejects when they cannot be had. */
  readonly fetch: (
    name: string,
    stretch: { readonly from: number; readonly end: number },
  ) => Promise<ArrayBuffer | null>;
  /** Told what could not be had. */
  readonly trouble: (problem: string) => void;
}

/** What is known of a header beside a scan. */
export interface NearnessState {
  /** The levels shown may be those of the header before. */
  readonly asking: boolean;
  /** Levels of tiles that are shown are on their way. */
  readonly loading: boolean;
  /** Why there are no levels at all; null when there are. */
  readonly why: string | null;
  readonly leftOut: readonly LeftOut[];
}

interface Held {
  readonly sum: string;
  readonly levels: Uint8Array<ArrayBuffer>;
}

type Answer = Extract<AskedNearness, { state: 'there' }>;

/** How near the points of a scan's tiles are to the header: those that are shown, and after an edit only those that changed. */
export class NearnessSource {
  private readonly tiles: readonly Tile[];
  private readonly port: NearnessPort;
  /** Number of the first point of each tile. */
  private readonly first: readonly number[];
  private answer: Answer | null = null;
  private now: NearnessState = { asking: false, loading: false, why: null, leftOut: [] };
  private asked: AbortController | null = null;
  private wanted: readonly number[] = [];
  private readonly here = new Map<number, Held>();
  private readonly coming = new Set<number>();
  /** Not asked for again before the next answer: they came damaged or not at all. */
  private readonly given = new Set<number>();
  private loads = 0;
  private readonly listeners = new Set<() => void>();

  constructor(tiles: readonly Tile[], port: NearnessPort) {
    this.tiles = tiles;
    this.port = port;
    let points = 0;
    this.first = tiles.map(({ count }) => {
      points += count;
      return points - count;
    });
  }

  get state(): NearnessState {
    return this.now;
  }

  /** A level for each point of a tile; undefined while it is not known. Always another array when a level is another. */
  levels(tile: number): Uint8Array<ArrayBuffer> | undefined {
    return this.here.get(tile)?.levels;
  }

  /** Asks how near the header is now. */
  refresh(): void {
    this.asked?.abort(new Error('no longer wanted'));
    const stop = new AbortController();
    this.asked = stop;
    this.tell({ ...this.now, asking: true });
    this.port.ask(stop.signal).then(
      (answer) => !stop.signal.aborted && this.take(answer),
      (error: Error) => !stop.signal.aborted && this.take({ state: 'none', why: error.message }),
    );
  }

  /** Says which tiles are shown, most needed first; [] when none are. */
  want(tiles: readonly number[]): void {
    this.wanted = tiles;
    this.forget();
    this.next();
  }

  /** Calls back when levels or what is known have changed; call what it gives to stop that. */
  onLoaded(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  close(): void {
    this.asked?.abort(new Error('closed'));
    this.wanted = [];
    this.here.clear();
  }

  private take(answer: Exclude<AskedNearness, { state: 'pending' }>): void {
    this.given.clear();
    if (answer.state === 'none') {
      this.answer = null;
      // What was true of another header must not be taken for this one.
      this.here.clear();
      this.tell({ ...this.now, asking: false, why: answer.why, leftOut: [] });
      return;
    }
    this.answer = answer;
    this.next();
    this.tell({ ...this.now, asking: false, why: null, leftOut: answer.leftOut });
  }

  private tell(state: NearnessState = this.now): void {
    const loading = this.loads > 0;
    // The same object as long as nothing of it is another: who watches compares by it.
    this.now = state === this.now && state.loading === loading ? state : { ...state, loading };
    for (const listener of [...this.listeners]) listener();
  }

  /** Whether a tile has to be fetched; one with nothing near is made here. */
  private lacks(tile: number): boolean {
    const sum = this.answer?.tiles[tile];
    if (sum === undefined || this.here.get(tile)?.sum === sum) return false;
    if (sum !== '') return !this.coming.has(tile) && !this.given.has(tile);
    const levels = new Uint8Array(this.tiles[tile]?.count ?? 0).fill(NEARNESS_FAR);
    this.here.set(tile, { sum, levels });
    return false;
  }

  private next(): void {
    let free = AT_ONCE - this.loads;
    for (const tile of this.wanted) {
      if (!this.lacks(tile) || free <= 0 || !this.answer) continue;
      free--;
      void this.load(this.answer, this.runFrom(tile));
    }
  }

  /** The tile and those after it that are wanted as much, as long as one request takes them. */
  private runFrom(tile: number): readonly number[] {
    const wanted = new Set(this.wanted);
    const run = [tile];
    let points = this.tiles[tile]?.count ?? 0;
    for (let next = tile + 1; wanted.has(next) && this.lacks(next); next++) {
      points += this.tiles[next]?.count ?? 0;
      if (points > MOST_POINTS) break;
      run.push(next);
    }
    for (const one of run) this.coming.add(one);
    return run;
  }

  private async load(answer: Answer, run: readonly number[]): Promise<void> {
    this.loads++;
    const [head = 0, last = head] = [run[0], run.at(-1)];
    const from = this.first[head] ?? 0;
    const end = (this.first[last] ?? 0) + (this.tiles[last]?.count ?? 0);
    const problem = await this.port.fetch(answer.name, { from, end }).then(
      (bytes) => (bytes === null ? GONE : this.keep(answer, run, bytes)),
      (error: Error) => error.message,
    );
    this.loads--;
    for (const tile of run) this.coming.delete(tile);
    if (problem !== null && answer === this.answer) {
      for (const tile of run) {
        if (this.here.get(tile)?.sum === answer.tiles[tile]) continue;
        this.given.add(tile);
        // Those of the header before would be taken for this one's.
        this.here.delete(tile);
      }
      if (problem === GONE) this.refresh();
      else this.port.trouble(problem);
    }
    this.next();
    this.tell();
  }

  /** Keeps what came whole and is still true; gives what is wrong with the rest. */
  private keep(answer: Answer, run: readonly number[], bytes: ArrayBuffer): string | null {
    let problem: string | null = null;
    let at = 0;
    for (const tile of run) {
      const { count = 0 } = this.tiles[tile] ?? {};
      const sum = answer.tiles[tile] ?? '';
      const levels = new Uint8Array(bytes.slice(at, at + count));
      at += count;
      if (levels.length !== count || sumOf(levels).toString(16).padStart(8, '0') !== sum) problem = 'its sum differs';
      else if (this.answer?.tiles[tile] === sum) this.here.set(tile, { sum, levels });
    }
    return problem;
  }

  private forget(): void {
    const wanted = new Set(this.wanted);
    const spare = [...this.here].filter(([tile]) => !wanted.has(tile));
    let bytes = spare.reduce((sum, [, { levels }]) => sum + levels.length, 0);
    for (const [tile, { levels }] of spare) {
      if (bytes <= SPARE_BYTES) return;
      this.here.delete(tile);
      bytes -= levels.length;
    }
  }
}
