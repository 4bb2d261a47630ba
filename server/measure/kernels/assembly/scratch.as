// Room of this instance to work in. Several instances, each on a thread of its own, may work in one memory: what a question writes down
// on its way must then stand apart, so it stands from an address that is given, and not at one that is compiled in.

/** Where it begins; ROOM bytes, aligned to 128. */
export let scratch: usize = 0;

/** Bytes that must be there. */
export const ROOM: usize = 28672;

/** Child boxes that wait, and what each is in order by: offsets in the room. */
export const CHILDREN: usize = 0;
export const ORDER: usize = 1024;
/** Squares of the least distances so far of the points that share a walk. */
export const BEST: usize = 2048;
export const FOUR: usize = 2304;
/** The box around those points, each bound in four lanes. */
export const BOX: usize = 2320;
/** Boxes of points that wait, and nodes held against one of them. */
export const BOXES: usize = 2560;
export const NODES: usize = 4608;

/** Pairs of boxes that wait. */
export const PAIRS: usize = 5632;
/** Four balls, see balls. */
export const BALLS: usize = 26880;
/** What a tree that is built needs, see tree. */
export const TREE: usize = 22016;

export function takeScratch(at: usize): void {
  scratch = at;
}

export function scratchRoom(): usize {
  return ROOM;
}
