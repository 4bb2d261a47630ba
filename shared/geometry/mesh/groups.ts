/** Things numbered from 0 that are put together pair by pair (union by the lower number, path halving). */
export class Groups {
  private readonly parent: Int32Array;

  /** @param count things, each a group of its own at first */
  constructor(count: number) {
    this.parent = Int32Array.from({ length: count }, (_, i) => i);
  }

  /** The lowest number of the group a thing is in: the same for all in it, and different for every two groups. */
  of(thing: number): number {
    const { parent } = this;
    let at = thing;
    for (let up = parent[at] ?? at; up !== at; up = parent[at] ?? at) {
      parent[at] = parent[up] ?? up;
      at = parent[at] ?? at;
    }
    return at;
  }

  /** Puts the groups of two things together; false when they were one. */
  join(a: number, b: number): boolean {
    const [x, y] = [this.of(a), this.of(b)];
    if (x === y) return false;
    this.parent[Math.max(x, y)] = Math.min(x, y);
    return true;
  }
}
