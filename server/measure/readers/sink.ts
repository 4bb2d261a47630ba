import { uploadSpan } from '../../../shared/geometry/span.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import { grouped, refuse } from './problem.ts';

/** Most points taken from one scan (own: 720 MB as Float32). */
export const MAX_POINTS = 60_000_000;
const BLOCK_FLOATS = 3 << 18;

/** The least and greatest corner of what was read, metres. */
export interface Bounds {
  readonly least: Vec3;
  readonly greatest: Vec3;
}

/** Points gathered from a file: metres relative to `origin`, which is the first point. */
export interface Gathered {
  readonly points: Float32Array<ArrayBuffer>;
  readonly origin: Vec3;
  readonly count: number;
  /** Points of the file that have no place, and so are not among these: NaN, or marked as none. */
  readonly unplaced: number;
  readonly bounds: Bounds;
}

/** How to take points in: metres per file unit, and how many at most. */
export interface SinkOptions {
  readonly unitFactor: number;
  readonly maxPoints: number;
}

/**
 * Takes points one by one in file units and keeps them as Float32 metres from the first, which keeps small distances exact in scans
 * that lie far from their zero. Memory grows with what really comes, never with what a header promises.
 */
export class PointSink {
  readonly extent: Extent;
  private readonly options: SinkOptions;
  /** The first block has room for everything. */
  private readonly sized: boolean;
  private readonly full: Float32Array[] = [];
  private block: Float32Array<ArrayBuffer>;
  private used = 0;
  private origin: Vec3 = [0, 0, 0];
  private count = 0;
  private marked = 0;

  /** @param expected number of points, when the size of the file has proved that it can hold them */
  constructor(options: SinkOptions, expected?: number) {
    this.options = options;
    this.extent = new Extent();
    this.sized = expected !== undefined;
    this.block = new Float32Array(expected === undefined ? BLOCK_FLOATS : 3 * expected);
  }

  /**
   * Adds a point in file units, or counts it when it has no place; `place` (line or record, counted from 1) is only for the message about
   * what is not finite.
   */
  add(x: number, y: number, z: number, place: number): void {
    if (!this.extent.add(x, y, z, place)) return;
    if (this.count === 0) this.origin = [x, y, z];
    if (this.count >= this.options.maxPoints) refuseTooMany(this.options.maxPoints);
    if (this.used === this.block.length) {
      this.full.push(this.block);
      this.block = new Float32Array(BLOCK_FLOATS);
      this.used = 0;
    }
    const { block, origin } = this;
    const { unitFactor } = this.options;
    block[this.used++] = (x - origin[0]) * unitFactor;
    block[this.used++] = (y - origin[1]) * unitFactor;
    block[this.used++] = (z - origin[2]) * unitFactor;
    this.count++;
  }

  /** Counts a point that the file itself marks as none. */
  leaveOut(): void {
    this.marked++;
  }

  /** Number of points so far. */
  get size(): number {
    return this.count;
  }

  /** Number of points so far, those without a place too. */
  get seen(): number {
    return this.count + this.unplaced;
  }

  private get unplaced(): number {
    return this.marked + this.extent.unplaced;
  }

  /** Checks that the points are finite or few of them NaN, and plausible, and joins the blocks. `place` names what places count: line, point, triangle. */
  finish(place: string): Gathered {
    const { unitFactor } = this.options;
    this.extent.checkPlaced(place, this.count);
    const bounds = this.extent.bounds(unitFactor);
    const [x, y, z] = this.origin;
    const origin: Vec3 = [x * unitFactor, y * unitFactor, z * unitFactor];
    return { points: this.joined(), origin, count: this.count, unplaced: this.unplaced, bounds };
  }

  /** All blocks as one; of a block that had room for everything what is used is given, for at least half of it is. */
  private joined(): Float32Array<ArrayBuffer> {
    if (this.sized) return this.block.subarray(0, this.used);
    const points = new Float32Array(3 * this.count);
    let at = 0;
    for (const block of this.full) {
      points.set(block, at);
      at += block.length;
    }
    points.set(this.block.subarray(0, this.used), at);
    return points;
  }
}

/** Refuses a scan with more points than are taken. */
export function refuseTooMany(max: number, found?: number): never {
  const came = found === undefined ? 'the file has more' : `the file has ${grouped(found)}`;
  return refuse(
    'too-many-points',
    `Expected at most ${grouped(max)} points, ${came}. Thin the scan before uploading it.`,
  );
}

/** Points of one kind, and where the first of them stands. */
class Tally {
  count = 0;
  private first = 0;

  add(place: number): void {
    if (this.count++ === 0) this.first = place;
  }

  /** @param place what places count */
  firstAt(place: string): string {
    return `the first at ${place} ${grouped(this.first)}`;
  }
}

/** Least and greatest coordinates in file units, and where something was not finite. */
export class Extent {
  private readonly least = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  private readonly greatest = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  /** Points with a coordinate that is not finite; those among them with an infinite one. */
  private readonly broken = new Tally();
  private readonly infinite = new Tally();

  /** Number of points so far that are not finite. */
  get unplaced(): number {
    return this.broken.count;
  }

  /** Takes a point in; false when a coordinate is not finite. */
  add(x: number, y: number, z: number, place: number): boolean {
    // One subtraction finds both NaN and Inf: x - x is 0 for every finite x only.
    if (x - x + (y - y) + (z - z) !== 0) {
      this.broken.add(place);
      if ([x, y, z].some((one) => Math.abs(one) === Number.POSITIVE_INFINITY)) this.infinite.add(place);
      return false;
    }
    const { least, greatest } = this;
    if (x < (least[0] ?? 0)) least[0] = x;
    if (y < (least[1] ?? 0)) least[1] = y;
    if (z < (least[2] ?? 0)) least[2] = z;
    if (x > (greatest[0] ?? 0)) greatest[0] = x;
    if (y > (greatest[1] ?? 0)) greatest[1] = y;
    if (z > (greatest[2] ?? 0)) greatest[2] = z;
    return true;
  }

  /** Refuses a surface with a corner that is not finite: it would have a hole. */
  checkWhole(place: string): void {
    const { broken } = this;
    if (broken.count > 0)
      refuse(
        'not-finite',
        `Expected finite coordinates; ${grouped(broken.count)} are NaN or Inf, ${broken.firstAt(place)}.`,
      );
  }

  /** Refuses infinite coordinates, and points of which more than half are NaN. @param placed number of those with a place */
  checkPlaced(place: string, placed: number): void {
    const { broken, infinite } = this;
    if (infinite.count > 0) {
      const came = `${grouped(infinite.count)} are infinite, ${infinite.firstAt(place)}`;
      refuse('not-finite', `Expected finite coordinates, or NaN for a point without a place; ${came}.`);
    }
    if (broken.count <= placed) return;
    const came = `${grouped(broken.count)} of ${grouped(broken.count + placed)} have none (NaN), ${broken.firstAt(place)}`;
    refuse(
      'mostly-unplaced',
      `Expected a place for at least half of the points; ${came}. A file in another form than it says reads like that: export it again.`,
    );
  }

  /** Bounds in metres, or a refusal: the size cannot be that of an engine bay or a part of it. */
  bounds(unitFactor: number): Bounds {
    const [x0 = 0, y0 = 0, z0 = 0] = this.least;
    const [x1 = 0, y1 = 0, z1 = 0] = this.greatest;
    checkPlausible(Math.hypot(x1 - x0, y1 - y0, z1 - z0), unitFactor);
    return {
      least: [x0 * unitFactor, y0 * unitFactor, z0 * unitFactor],
      greatest: [x1 * unitFactor, y1 * unitFactor, z1 * unitFactor],
    };
  }
}

/** Diagonals of an engine bay or a part of it, metres. */
export const PLAUSIBLE_DIAGONAL = uploadSpan;
/** Metres per unit a file can be brought in. Source: SI; inch by the international definition of 1959 (memory). */
const UNITS = {
  metres: 1,
  millimetres: 0.001,
  centimetres: 0.01,
  inches: 0.0254,
} as const;

function checkPlausible(diagonal: number, unitFactor: number): void {
  const fits = (factor: number): boolean =>
    diagonal * factor >= PLAUSIBLE_DIAGONAL.least && diagonal * factor <= PLAUSIBLE_DIAGONAL.greatest;
  if (fits(unitFactor)) return;
  const plausible = Object.entries(UNITS)
    .filter(([, factor]) => fits(factor))
    // An engine bay is about a metre across: the unit that comes nearest to that is named first.
    .sort(([, a], [, b]) => Math.abs(Math.log(diagonal * a)) - Math.abs(Math.log(diagonal * b)))
    .map(([name, factor]) => `${name} (${(diagonal * factor).toPrecision(3)} m)`);
  const came = `the file's bounding diagonal is ${(diagonal * unitFactor).toPrecision(3)} m in the unit given`;
  const hint =
    plausible.length > 0 ? `It would be plausible in ${plausible.join(', ')}.` : 'No common unit makes it plausible.';
  refuse('implausible-extents', `Expected a scan between 0.02 m and 20 m across; ${came}. ${hint}`);
}
