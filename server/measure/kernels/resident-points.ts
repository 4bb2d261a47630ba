import type { Vec3 } from '../../../shared/geometry/vector.ts';
import type { Coordinates } from './clearance.ts';
import type { KernelMemory } from './kernel-memory.ts';

/** Points in a run of the lowest level of boxes. */
export const RUN = 16;
/** Pairs there is always room to list, and the bytes of one. */
export const [ROOM, PAIR] = [4_096, 12];
/** Ranges that points are cut into for several threads, at most, and points of one below which it is not cut. */
const [SHARED_RANGES, SHARED_POINTS] = [32, 1 << 17];
/** Bytes of four boxes. */
const FOUR_BOXES = 96;

/** The finite points of a scan in a kernel: ordered, boxed, in millimetres from the middle of their box. */
export interface ResidentPoints {
  readonly count: number;
  /** Addresses: coordinates and number of each point in order, distances to write, runs and pairs to list, box addresses of the levels. */
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly numbers: number;
  readonly distances: number;
  readonly list: number;
  readonly pairs: number;
  readonly levels: number;
  readonly levelCount: number;
  /** Zero of the kernel, metres. */
  readonly origin: Vec3;
  /** Greatest coordinate about the origin, mm. */
  readonly span: number;
}

/** Takes points in. Throws KernelFull. */
export function residentPoints(memory: KernelMemory, points: Coordinates, finite: Uint32Array): ResidentPoints {
  const count = finite.length;
  // Four at a time are read, also behind the last.
  const bytes = 4 * count + 64;
  const [x, y, z] = [memory.allocate(bytes), memory.allocate(bytes), memory.allocate(bytes)];
  const numbers = memory.allocate(bytes);
  const { origin, span } = middle(points, finite);
  memory.whole(numbers, count).set(finite);
  [x, y, z].forEach((at, axis) => {
    const to = memory.singles(at, count);
    const zero = origin[axis] ?? 0;
    for (let i = 0; i < count; i++) to[i] = ((points[3 * (finite[i] ?? 0) + axis] ?? 0) - zero) * 1000;
  });
  order(memory, [x, y, z, numbers], count);
  for (const at of [x, y, z]) {
    const padded = memory.singles(at, count + 16);
    padded.fill(padded[count - 1] ?? 0, count);
  }
  const distances = memory.allocate(bytes);
  const list = memory.allocate(4 * Math.ceil(count / RUN) + 16);
  const pairs = memory.allocate(PAIR * ROOM);
  return { count, x, y, z, numbers, distances, list, pairs, origin, span, ...boxLevels(memory, { x, y, z, count }) };
}

/** Puts points in order: large ranges cut in two until there are enough for several threads, each then by one of them. */
function order(memory: KernelMemory, columns: readonly [number, number, number, number], count: number): void {
  const mark = memory.mark();
  const lists = [memory.allocate(8 * SHARED_RANGES), memory.allocate(8 * SHARED_RANGES)] as const;
  const before = ['takeOrder', ...columns] as const;
  let [ranges, parts] = lists;
  let total = 1;
  memory.whole(ranges, 2).set([0, count]);
  for (; total < SHARED_RANGES && count > total * SHARED_POINTS; total *= 2) {
    memory.share({ before, each: ['cutRanges', ranges, 'from', 'to', parts], total, part: 1 });
    [ranges, parts] = [parts, ranges];
  }
  memory.share({ before, each: ['orderRanges', ranges, 'from', 'to'], total, part: 1 });
  memory.release(mark);
}

function boxLevels(
  memory: KernelMemory,
  { x, y, z, count }: { readonly x: number; readonly y: number; readonly z: number; readonly count: number },
): { readonly levels: number; readonly levelCount: number } {
  let groups = Math.max(1, Math.ceil(count / RUN / 4));
  let boxes = memory.allocate(groups * FOUR_BOXES);
  memory.run.boxRuns(x, y, z, count, RUN, boxes);
  const all = [boxes];
  while (groups > 1) {
    const above = memory.allocate(Math.ceil(groups / 4) * FOUR_BOXES);
    memory.run.boxBoxes(boxes, groups, above);
    groups = Math.ceil(groups / 4);
    boxes = above;
    all.push(boxes);
  }
  const levels = memory.allocate(4 * all.length);
  memory.whole(levels, all.length).set(all);
  return { levels, levelCount: all.length };
}

function middle(points: Coordinates, finite: Uint32Array): { readonly origin: Vec3; readonly span: number } {
  const [least, most] = [new Float64Array(3).fill(Number.POSITIVE_INFINITY), new Float64Array(3).fill(-Infinity)];
  for (const point of finite)
    for (let axis = 0; axis < 3; axis++) {
      const value = points[3 * point + axis] ?? 0;
      if (value < (least[axis] ?? 0)) least[axis] = value;
      if (value > (most[axis] ?? 0)) most[axis] = value;
    }
  if (finite.length === 0) return { origin: [0, 0, 0], span: 0 };
  const at = (axis: number): number => ((least[axis] ?? 0) + (most[axis] ?? 0)) / 2;
  const half = (axis: number): number => (((most[axis] ?? 0) - (least[axis] ?? 0)) / 2) * 1000;
  return { origin: [at(0), at(1), at(2)], span: Math.max(half(0), half(1), half(2)) };
}
