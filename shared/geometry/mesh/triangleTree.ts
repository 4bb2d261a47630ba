import type { TriangleMesh } from './triangleMesh.ts';
import { triangleCount } from './triangleMesh.ts';

/**
 * Boxes around boxes around triangles, flat in typed arrays. A node's two children stand side by side; a leaf holds a run of triangles.
 * Boxes are doubles and hold their triangles exactly, so nothing that an exact test would find is missed.
 */
export interface TriangleTree {
  readonly count: number;
  /** Nine coordinates a triangle, in the order of the leaves. */
  readonly corners: Float64Array;
  /** Triangle number in the mesh of each of those. */
  readonly order: Uint32Array;
  /** Least and greatest corner of each node, six numbers. */
  readonly boxes: Float64Array;
  /** For a leaf its first triangle in the order, for others the first of the two children. */
  readonly start: Int32Array;
  /** Triangles in a leaf; 0 for others. */
  readonly held: Int32Array;
  readonly nodes: number;
}

/** Deepest a tree gets for any mesh of up to 2^32 triangles: stacks of walkers are this long. */
export const DEEPEST = 96;

const LEAF = 4;
const BINS = 16;
/** Below this depth halves are cut by count, which bounds the depth whatever the triangles are like. */
const COUNT_ONLY = 60;

/** Builds the tree of a mesh (surface-area heuristic over 16 bins). */
export function triangleTree(mesh: TriangleMesh): TriangleTree {
  const count = triangleCount(mesh);
  const work = makeWork(mesh, count);
  const room = Math.max(1, 2 * count);
  const tree = { boxes: new Float64Array(6 * room), start: new Int32Array(room), held: new Int32Array(room), nodes: 1 };
  tree.held[0] = count;
  const waiting = new Int32Array(2 * DEEPEST);
  let top = 0;
  waiting[top++] = 0;
  waiting[top++] = 0;
  while (top > 0) {
    const depth = waiting[--top] ?? 0;
    const node = waiting[--top] ?? 0;
    const [first, held] = [tree.start[node] ?? 0, tree.held[node] ?? 0];
    fitBox(work, tree.boxes.subarray(6 * node, 6 * node + 6), first, first + held);
    if (held <= LEAF) continue;
    const middle = split(work, first, first + held, depth);
    const left = tree.nodes;
    tree.nodes += 2;
    tree.start.set([first, middle], left);
    tree.held.set([middle - first, first + held - middle], left);
    tree.start[node] = left;
    tree.held[node] = 0;
    waiting.set([left, depth + 1, left + 1, depth + 1], top);
    top += 4;
  }
  return {
    count,
    corners: cornersInOrder(mesh, work.order),
    order: work.order,
    boxes: tree.boxes.slice(0, 6 * tree.nodes),
    start: tree.start.slice(0, tree.nodes),
    held: tree.held.slice(0, tree.nodes),
    nodes: tree.nodes,
  };
}

interface Work {
  readonly order: Uint32Array;
  /** Box of each triangle by its number in the mesh, six numbers. */
  readonly boxes: Float64Array;
  readonly bins: Float64Array;
  readonly filled: Int32Array;
  /** Cost of all bins from this one on. */
  readonly after: Float64Array;
}

function makeWork({ positions, indices }: TriangleMesh, count: number): Work {
  const boxes = new Float64Array(6 * count);
  for (let t = 0; t < count; t++) {
    const a = 3 * (indices[3 * t] ?? 0);
    const b = 3 * (indices[3 * t + 1] ?? 0);
    const c = 3 * (indices[3 * t + 2] ?? 0);
    for (let k = 0; k < 3; k++) {
      const [x, y, z] = [positions[a + k] ?? 0, positions[b + k] ?? 0, positions[c + k] ?? 0];
      boxes[6 * t + k] = Math.min(x, y, z);
      boxes[6 * t + 3 + k] = Math.max(x, y, z);
    }
  }
  const order = new Uint32Array(count);
  for (let t = 0; t < count; t++) order[t] = t;
  return {
    order,
    boxes,
    bins: new Float64Array(6 * BINS),
    filled: new Int32Array(BINS),
    after: new Float64Array(BINS + 1),
  };
}

function fitBox({ order, boxes }: Work, into: Float64Array, first: number, end: number): void {
  emptyBox(into, 0);
  for (let i = first; i < end; i++) growBox(into, 0, boxes, 6 * (order[i] ?? 0));
}

function emptyBox(boxes: Float64Array, o: number): void {
  boxes.fill(Number.POSITIVE_INFINITY, o, o + 3);
  boxes.fill(Number.NEGATIVE_INFINITY, o + 3, o + 6);
}

function growBox(boxes: Float64Array, o: number, by: Float64Array, q: number): void {
  for (let k = 0; k < 3; k++) {
    const low = by[q + k] ?? 0;
    const high = by[q + 3 + k] ?? 0;
    if (low < (boxes[o + k] ?? 0)) boxes[o + k] = low;
    if (high > (boxes[o + 3 + k] ?? 0)) boxes[o + 3 + k] = high;
  }
}

/** Half the surface of a box, the likelihood that a query meets it; 0 for an empty one. */
function halfSurface(boxes: Float64Array, o: number): number {
  const x = (boxes[o + 3] ?? 0) - (boxes[o] ?? 0);
  const y = (boxes[o + 4] ?? 0) - (boxes[o + 1] ?? 0);
  const z = (boxes[o + 5] ?? 0) - (boxes[o + 2] ?? 0);
  return x < 0 ? 0 : x * y + y * z + z * x;
}

/** Parts a run of the order in two and gives where the second begins; both have something in them. */
function split(work: Work, first: number, end: number, depth: number): number {
  const halves = first + ((end - first) >> 1);
  const span = middleSpan(work, first, end);
  if (!(span.extent > 0)) return halves;
  if (depth >= COUNT_ONLY) {
    const middles = work.order.subarray(first, end);
    middles.sort((s, t) => doubleMiddle(work, s, span.axis) - doubleMiddle(work, t, span.axis) || s - t);
    return halves;
  }
  fillBins(work, first, end, span);
  const cut = cheapestCut(work);
  const { order } = work;
  let [i, j] = [first, end - 1];
  while (i <= j) {
    const t = order[i] ?? 0;
    if (binOf(work, t, span) <= cut) i++;
    else {
      order[i] = order[j] ?? 0;
      order[j--] = t;
    }
  }
  return i === first || i === end ? halves : i;
}

interface Span {
  readonly axis: number;
  /** Least double middle on the axis, and how far the greatest is from it. */
  readonly least: number;
  readonly extent: number;
}

const doubleMiddle = ({ boxes }: Work, t: number, axis: number): number =>
  (boxes[6 * t + axis] ?? 0) + (boxes[6 * t + 3 + axis] ?? 0);

function middleSpan(work: Work, first: number, end: number): Span {
  let best: Span = { axis: 0, least: 0, extent: -1 };
  for (let axis = 0; axis < 3; axis++) {
    let least = Number.POSITIVE_INFINITY;
    let greatest = Number.NEGATIVE_INFINITY;
    for (let i = first; i < end; i++) {
      const middle = doubleMiddle(work, work.order[i] ?? 0, axis);
      if (middle < least) least = middle;
      if (middle > greatest) greatest = middle;
    }
    if (greatest - least > best.extent) best = { axis, least, extent: greatest - least };
  }
  return best;
}

const binOf = (work: Work, t: number, { axis, least, extent }: Span): number =>
  Math.min(BINS - 1, Math.floor(((doubleMiddle(work, t, axis) - least) / extent) * BINS));

function fillBins(work: Work, first: number, end: number, span: Span): void {
  const { bins, filled, boxes, order } = work;
  filled.fill(0);
  for (let b = 0; b < BINS; b++) emptyBox(bins, 6 * b);
  for (let i = first; i < end; i++) {
    const t = order[i] ?? 0;
    const b = binOf(work, t, span);
    filled[b] = (filled[b] ?? 0) + 1;
    growBox(bins, 6 * b, boxes, 6 * t);
  }
}

/** The last bin of the left half. */
function cheapestCut({ bins, filled, after }: Work): number {
  const box = new Float64Array(6);
  emptyBox(box, 0);
  let count = 0;
  for (let b = BINS - 1; b > 0; b--) {
    growBox(box, 0, bins, 6 * b);
    count += filled[b] ?? 0;
    after[b] = count > 0 ? halfSurface(box, 0) * count : Number.POSITIVE_INFINITY;
  }
  emptyBox(box, 0);
  count = 0;
  let [best, cut] = [Number.POSITIVE_INFINITY, 0];
  for (let b = 0; b < BINS - 1; b++) {
    growBox(box, 0, bins, 6 * b);
    count += filled[b] ?? 0;
    const cost = count > 0 ? halfSurface(box, 0) * count + (after[b + 1] ?? 0) : Number.POSITIVE_INFINITY;
    if (cost < best) [best, cut] = [cost, b];
  }
  return cut;
}

function cornersInOrder({ positions, indices }: TriangleMesh, order: Uint32Array): Float64Array {
  const corners = new Float64Array(9 * order.length);
  for (let i = 0; i < order.length; i++) {
    const t = 3 * (order[i] ?? 0);
    for (let k = 0; k < 3; k++) {
      const from = 3 * (indices[t + k] ?? 0);
      const to = 9 * i + 3 * k;
      corners[to] = positions[from] ?? 0;
      corners[to + 1] = positions[from + 1] ?? 0;
      corners[to + 2] = positions[from + 2] ?? 0;
    }
  }
  return corners;
}
