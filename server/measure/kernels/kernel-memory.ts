import type { KernelFault } from './clearance.ts';

/** What the compiled kernel offers; addresses and counts are unsigned. Lengths in millimetres, see assembly/. */
export interface KernelExports {
  allocate(bytes: number): number;
  mark(): number;
  release(to: number): void;
  makeTriangles(positions: number, indices: number, order: number, count: number, triangles: number): void;
  buildBinary(positions: number, indices: number, count: number, boxes: number, order: number, nodes: number): number;
  foldToFour(binary: number, nodes: number): number;
  boxLeaves(nodes: number, count: number, triangles: number): void;
  refit(nodes: number, count: number, triangles: number): void;
  orderPoints(x: number, y: number, z: number, order: number, count: number): void;
  boxRuns(x: number, y: number, z: number, count: number, run: number, boxes: number): void;
  boxBoxes(below: number, groups: number, boxes: number): void;
  takePoints(x: number, y: number, z: number, total: number, perRun: number, boxes: number): void;
  leastDistance(): number;
  nearestPairs(
    tree: number,
    leaves: number,
    levels: number,
    limit: number,
    slack: number,
    into: number,
    most: number,
  ): number;
  trianglesNear(tree: number, leaves: number, point: number, radius: number, into: number, most: number): number;
  takeField(tree: number, leaves: number, x: number, y: number, z: number): void;
  fieldOf(first: number, end: number, share: number, cap: number, distances: number): void;
  fieldOfRuns(list: number, listed: number, run: number, count: number, cap: number, distances: number): void;
  castRays(tree: number, leaves: number, rays: number, count: number, from: number, limit: number, into: number): void;
  runsNear(tree: number, levels: number, levelCount: number, reach: number, list: number): number;
}

/** Thrown by `allocate` and caught where a fault is made of it: the 4 GiB a kernel can address are used up. */
export class KernelFull extends Error {}

/** A kernel with a memory of its own, which grows as needed and up to 4 GiB. */
export class KernelMemory {
  readonly run: KernelExports;
  readonly #memory: WebAssembly.Memory;

  constructor(module: WebAssembly.Module) {
    this.#memory = new WebAssembly.Memory({ initial: 4, maximum: 65_535 });
    const abort = (): never => {
      throw new Error('the distance kernel stopped');
    };
    const { exports } = new WebAssembly.Instance(module, { env: { memory: this.#memory, abort } });
    this.run = exports as unknown as KernelExports;
  }

  /** Address of so many bytes, aligned to 128; they stay until `release` of a mark before them. */
  allocate(bytes: number): number {
    const at = this.allocateIfRoom(bytes);
    if (at === undefined) throw new KernelFull(`no ${bytes} bytes left`);
    return at;
  }

  /** The same, undefined where there are not as many left. */
  allocateIfRoom(bytes: number): number | undefined {
    return this.run.allocate(bytes) >>> 0 || undefined;
  }

  mark(): number {
    return this.run.mark() >>> 0;
  }

  release(to: number): void {
    this.run.release(to);
  }

  /** Views hold until the next allocation: growing moves the memory. */
  singles(at: number, count: number): Float32Array {
    return new Float32Array(this.#memory.buffer, at, count);
  }

  whole(at: number, count: number): Uint32Array {
    return new Uint32Array(this.#memory.buffer, at, count);
  }
}

/** The fault of a memory that is used up; throws on what is anything else. */
export function fullFault(error: unknown): KernelFault {
  if (!(error instanceof KernelFull)) throw error;
  return { kind: 'too-large', message: `Expected a scan and surfaces that fit in 4 GiB together: ${error.message}.` };
}
