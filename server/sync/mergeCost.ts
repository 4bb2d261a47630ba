import * as Y from 'yjs';

/** An item of an update, so far as its place matters: what it says it stands next to, or else under which key. */
export interface Placed {
  readonly client: number;
  readonly clock: number;
  readonly length: number;
  readonly left: ClockRef | null;
  readonly right: ClockRef | null;
  readonly key: string | null;
}

/** One clock of one client. */
export interface ClockRef {
  readonly client: number;
  readonly clock: number;
}

/** Entries under one key form a chain, oldest first; these are the update's own members of it. */
interface Chain {
  readonly key: string;
  members: number;
}

interface Spot {
  readonly item: Placed;
  readonly chain: Chain;
  /** Number in its chain. */
  readonly at: number;
}

/** A split moves the rest of a client's list by one place; that many places cost as much as one step along a chain. */
const PLACES_PER_STEP = 64;

/**
 * Upper bound of the steps Yjs takes to find the places of an update's items: it walks along all that was written under the same key
 * since. An edit made on the newest entry costs nothing; many made on an old one cost their number times what came after it, and
 * would stall the server. Counts up to `budget` and then stops.
 */
export function mergeCost(doc: Y.Doc, root: string, items: readonly Placed[], budget: number): number {
  return new Counting(doc, root, budget).run(items);
}

class Counting {
  private readonly doc: Y.Doc;
  private readonly root: string;
  private readonly budget: number;
  private readonly spots = new Map<number, Spot[]>();
  private readonly chains = new Map<string, Chain>();
  private readonly rightOf = new Map<Y.Item, number>();
  private readonly lengths = new Map<string, number>();
  private steps = 0;

  constructor(doc: Y.Doc, root: string, budget: number) {
    this.doc = doc;
    this.root = root;
    this.budget = budget;
  }

  run(items: readonly Placed[]): number {
    const queues = new Map<number, Placed[]>();
    for (const item of items) {
      if (item.clock + item.length <= Y.getState(this.doc.store, item.client)) continue;
      const queue = queues.get(item.client) ?? [];
      queue.push(item);
      queues.set(item.client, queue);
    }
    for (const queue of queues.values()) queue.reverse();
    for (const client of queues.keys()) this.placeAll(client, queues);
    return this.steps;
  }

  /** Places a client's items; where one stands beside an item that is still to come, that one's client goes first, as in Yjs. */
  private placeAll(first: number, queues: ReadonlyMap<number, Placed[]>): void {
    const stack = [first];
    const waiting = new Set(stack);
    /** Found waiting in vain since the last item was placed: items that wait for each other never get a place. */
    const stuck = new Set<number>();
    while (stack.length > 0 && this.steps <= this.budget) {
      const client = stack.at(-1) ?? first;
      const queue = queues.get(client);
      const item = queue?.at(-1);
      const needs = item && this.unplaced(item, queues);
      if (item && needs === null) {
        queue?.pop();
        this.place(item);
        stuck.clear();
      } else if (needs !== undefined && needs !== null && !waiting.has(needs) && !stuck.has(needs)) {
        stack.push(needs);
        waiting.add(needs);
        this.steps += 1;
      } else {
        stack.pop();
        waiting.delete(client);
        stuck.add(client);
      }
    }
  }

  /** The client whose item has to be placed before this one; null when nothing is missing. */
  private unplaced(item: Placed, queues: ReadonlyMap<number, Placed[]>): number | null {
    const beside = item.left ?? item.right;
    if (!beside || beside.clock < Y.getState(this.doc.store, beside.client)) return null;
    const next = queues.get(beside.client)?.at(-1);
    return next && next.clock <= beside.clock && beside.client !== item.client ? beside.client : null;
  }

  private place(item: Placed): void {
    const { left, right } = item;
    if (right) this.splitAt(right, 0);
    if (!left) return this.join(item, right ? this.keyAt(right) : item.key);
    this.splitAt(left, 1);
    const before = this.spotOf(left);
    if (before) return this.follow(item, before, left);
    const known = this.itemAt(left);
    if (known) this.join(item, known.parentSub, this.countRight(known));
  }

  /** Beside an entry of the document, or (without a number) at the start of a chain. All of this update in it may stand to the right. */
  private join(item: Placed, key: string | null, right = this.chainLength(key ?? '')): void {
    // Beside garbage it becomes garbage.
    if (key === null) return;
    const chain = this.chains.get(key) ?? { key, members: 0 };
    this.chains.set(key, chain);
    this.steps += right + chain.members;
    this.add(item, chain);
  }

  /** Beside an entry of this update: Yjs walks past what builds on that one, and stops at anything else. */
  private follow(item: Placed, { chain, at, item: before }: Spot, left: ClockRef): void {
    const inside = left.clock + 1 < before.clock + before.length;
    this.steps += chain.members - at - 1 + (inside ? 1 + chain.members / PLACES_PER_STEP : 0);
    this.add(item, chain);
  }

  private add(item: Placed, chain: Chain): void {
    const spots = this.spots.get(item.client) ?? [];
    spots.push({ item, chain, at: chain.members++ });
    this.spots.set(item.client, spots);
  }

  private keyAt(ref: ClockRef): string | null {
    return this.spotOf(ref)?.chain.key ?? this.itemAt(ref)?.parentSub ?? null;
  }

  private spotOf({ client, clock }: ClockRef): Spot | null {
    const spots = this.spots.get(client);
    if (!spots) return null;
    let [low, high] = [0, spots.length - 1];
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((spots[middle]?.item.clock ?? 0) <= clock) low = middle;
      else high = middle - 1;
    }
    const spot = spots[low];
    return spot && spot.item.clock <= clock && clock < spot.item.clock + spot.item.length ? spot : null;
  }

  private itemAt({ client, clock }: ClockRef): Y.Item | null {
    const structs = this.doc.store.clients.get(client);
    if (!structs || clock >= Y.getState(this.doc.store, client)) return null;
    const struct = structs[Y.findIndexSS(structs, clock)];
    return struct instanceof Y.Item ? struct : null;
  }

  private splitAt({ client, clock }: ClockRef, end: 0 | 1): void {
    const structs = this.doc.store.clients.get(client);
    if (!structs || clock >= Y.getState(this.doc.store, client)) return;
    const struct = structs[Y.findIndexSS(structs, clock)];
    const whole = struct && (end === 1 ? clock + 1 === struct.id.clock + struct.length : clock === struct.id.clock);
    if (!whole) this.steps += 1 + structs.length / PLACES_PER_STEP;
  }

  private countRight(item: Y.Item): number {
    const counted = this.rightOf.get(item);
    if (counted !== undefined) return counted;
    let n = 0;
    for (let next = item.right; next && n <= this.budget; next = next.right) n += 1;
    this.steps += n;
    this.rightOf.set(item, n);
    return n;
  }

  private chainLength(key: string): number {
    const counted = this.lengths.get(key);
    if (counted !== undefined) return counted;
    let n = 0;
    const map = this.doc.getMap(this.root);
    for (let item = map._map.get(key) ?? null; item && n <= this.budget; item = item.left) n += 1;
    this.lengths.set(key, n);
    return n;
  }
}
