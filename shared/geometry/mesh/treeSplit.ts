import type { TriangleMesh } from './triangleMesh.ts';

/*
 * How a run of triangles is parted in two while a tree is built. Plain loops over flat arrays, nothing destructured: a tree takes millions of
 * steps, and each would cost several times more.
 */

const BINS = 16;
/** Below this depth halves are cut by count, which bounds the depth whatever the triangles are like. */
const COUNT_ONLY = 60;
/** Up to so many triangles bins cost more than they save: cut in the middle of the span. Own, measured (tests/bench/geometry/mesh.ts). */
const FEW = 24;

/** What a tree is built with. */
export interface SplitWork {
  readonly order: Uint32Array;
  /** Box of each triangle, six numbers, moved along with the order: what is read together lies together. */
  readonly boxes: Float64Array;
  /** Boxes of the nodes. */
  readonly nodes: Float64Array;
  readonly bins: Float64Array;
  readonly filled: Int32Array;
  /** Cost of all bins from this one on. */
  readonly after: Float64Array;
  readonly box: Float64Array;
  /** Where the middles of the run at hand lie, doubled: the widest axis, its least, and the greatest less that. */
  readonly span: { axis: number; least: number; extent: number };
}

/** A run of the order, and how deep its node lies. */
export interface Run {
  readonly first: number;
  readonly end: number;
  readonly depth: number;
}

/** Takes in the triangles of a mesh; `nodes` has room for six numbers a node. */
export function splitWork({ positions, indices }: TriangleMesh, count: number, nodes: Float64Array): SplitWork {
  const boxes = new Float64Array(6 * count);
  const order = new Uint32Array(count);
  for (let t = 0; t < count; t++) {
    const a = 3 * (indices[3 * t] ?? 0);
    const b = 3 * (indices[3 * t + 1] ?? 0);
    const c = 3 * (indices[3 * t + 2] ?? 0);
    order[t] = t;
    for (let k = 0; k < 3; k++) {
      const x = positions[a + k] ?? 0;
      const y = positions[b + k] ?? 0;
      const z = positions[c + k] ?? 0;
      boxes[6 * t + k] = Math.min(x, y, z);
      boxes[6 * t + 3 + k] = Math.max(x, y, z);
    }
  }
  return {
    order,
    boxes,
    nodes,
    bins: new Float64Array(6 * BINS),
    filled: new Int32Array(BINS),
    after: new Float64Array(BINS + 1),
    box: new Float64Array(6),
    span: { axis: 0, least: 0, extent: 0 },
  };
}

/** Sets the box of a node to that of a run of triangles. */
export function fitBox({ boxes, nodes }: SplitWork, node: number, first: number, end: number): void {
  emptyBox(nodes, 6 * node);
  for (let i = first; i < end; i++) growBox(nodes, 6 * node, boxes, 6 * i);
}

function emptyBox(boxes: Float64Array, o: number): void {
  boxes[o] = boxes[o + 1] = boxes[o + 2] = Number.POSITIVE_INFINITY;
  boxes[o + 3] = boxes[o + 4] = boxes[o + 5] = Number.NEGATIVE_INFINITY;
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

/** Parts a run of the order in two, fits the boxes of both nodes and gives where the second begins; both have something in them. */
export function splitRun(work: SplitWork, left: number, { first, end, depth }: Run): number {
  measureSpan(work, first, end);
  const { span } = work;
  let middle = first;
  if (span.extent > 0 && depth < COUNT_ONLY) {
    if (end - first > FEW) {
      const cut = cheapestCut(work, first, end);
      middle = parted(work, first, end, cut);
      if (middle > first && middle < end) {
        joinBins(work, 6 * left, 0, cut);
        joinBins(work, 6 * left + 6, cut + 1, BINS - 1);
        return middle;
      }
    } else middle = parted(work, first, end, BINS / 2 - 1);
  } else if (span.extent > 0) sortRun(work, first, end);
  if (middle === first || middle === end) middle = first + ((end - first) >> 1);
  fitBox(work, left, first, middle);
  fitBox(work, left + 1, middle, end);
  return middle;
}

/** Finds the axis along which the middles of a run are spread widest. */
function measureSpan({ boxes, span }: SplitWork, first: number, end: number): void {
  let x0 = Number.POSITIVE_INFINITY;
  let y0 = x0;
  let z0 = x0;
  let x1 = Number.NEGATIVE_INFINITY;
  let y1 = x1;
  let z1 = x1;
  for (let o = 6 * first; o < 6 * end; o += 6) {
    const x = (boxes[o] ?? 0) + (boxes[o + 3] ?? 0);
    const y = (boxes[o + 1] ?? 0) + (boxes[o + 4] ?? 0);
    const z = (boxes[o + 2] ?? 0) + (boxes[o + 5] ?? 0);
    if (x < x0) x0 = x;
    if (x > x1) x1 = x;
    if (y < y0) y0 = y;
    if (y > y1) y1 = y;
    if (z < z0) z0 = z;
    if (z > z1) z1 = z;
  }
  span.axis = 0;
  span.least = x0;
  span.extent = x1 - x0;
  if (y1 - y0 > span.extent) {
    span.axis = 1;
    span.least = y0;
    span.extent = y1 - y0;
  }
  if (z1 - z0 > span.extent) {
    span.axis = 2;
    span.least = z0;
    span.extent = z1 - z0;
  }
}

/** The bin of a doubled middle. Where the scale is no finite number, all are in the first. */
function binOf(middle: number, least: number, scale: number): number {
  const bin = ((middle - least) * scale) | 0;
  return bin < BINS ? bin : BINS - 1;
}

/** Sorts a run into bins and gives the last bin of the left part where the cut is cheapest. */
function cheapestCut(work: SplitWork, first: number, end: number): number {
  const { bins, filled, boxes, span } = work;
  const { axis, least } = span;
  const scale = BINS / span.extent;
  filled.fill(0);
  for (let b = 0; b < BINS; b++) emptyBox(bins, 6 * b);
  for (let o = 6 * first; o < 6 * end; o += 6) {
    const b = binOf((boxes[o + axis] ?? 0) + (boxes[o + 3 + axis] ?? 0), least, scale);
    filled[b] = (filled[b] ?? 0) + 1;
    growBox(bins, 6 * b, boxes, o);
  }
  return cheapestOf(work);
}

function cheapestOf({ bins, filled, after, box }: SplitWork): number {
  emptyBox(box, 0);
  let count = 0;
  for (let b = BINS - 1; b > 0; b--) {
    growBox(box, 0, bins, 6 * b);
    count += filled[b] ?? 0;
    after[b] = count > 0 ? halfSurface(box, 0) * count : Number.POSITIVE_INFINITY;
  }
  emptyBox(box, 0);
  count = 0;
  let best = Number.POSITIVE_INFINITY;
  let cut = 0;
  for (let b = 0; b < BINS - 1; b++) {
    growBox(box, 0, bins, 6 * b);
    count += filled[b] ?? 0;
    const cost = count > 0 ? halfSurface(box, 0) * count + (after[b + 1] ?? 0) : Number.POSITIVE_INFINITY;
    if (cost < best) {
      best = cost;
      cut = b;
    }
  }
  return cut;
}

/** Brings the triangles of bins up to the cut to the front of a run, and gives where the others begin. */
function parted({ order, boxes, span }: SplitWork, first: number, end: number, cut: number): number {
  const { axis, least } = span;
  const scale = BINS / span.extent;
  let i = first;
  let j = end - 1;
  while (i <= j) {
    const o = 6 * i;
    if (binOf((boxes[o + axis] ?? 0) + (boxes[o + 3 + axis] ?? 0), least, scale) <= cut) {
      i++;
      continue;
    }
    const q = 6 * j;
    const t = order[i] ?? 0;
    order[i] = order[j] ?? 0;
    order[j--] = t;
    for (let k = 0; k < 6; k++) {
      const x = boxes[o + k] ?? 0;
      boxes[o + k] = boxes[q + k] ?? 0;
      boxes[q + k] = x;
    }
  }
  return i;
}

function joinBins({ nodes, bins }: SplitWork, o: number, from: number, to: number): void {
  emptyBox(nodes, o);
  for (let b = from; b <= to; b++) growBox(nodes, o, bins, 6 * b);
}

/** Sorts a run along the widest axis, equal ones by number. */
function sortRun({ order, boxes, span }: SplitWork, first: number, end: number): void {
  const [was, wasBoxes] = [order.slice(first, end), boxes.slice(6 * first, 6 * end)];
  const middle = (i: number): number => (wasBoxes[6 * i + span.axis] ?? 0) + (wasBoxes[6 * i + 3 + span.axis] ?? 0);
  const places = Uint32Array.from(was.keys()).sort((s, t) => middle(s) - middle(t) || (was[s] ?? 0) - (was[t] ?? 0));
  for (const [to, from] of places.entries()) {
    order[first + to] = was[from] ?? 0;
    boxes.set(wasBoxes.subarray(6 * from, 6 * from + 6), 6 * (first + to));
  }
}
