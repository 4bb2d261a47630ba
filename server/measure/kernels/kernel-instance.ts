/** What the compiled kernel offers; addresses and counts are unsigned. Lengths in millimetres, see assembly/. */
export interface KernelExports {
  allocate(bytes: number): number;
  /** Bytes an instance needs to work in, and the address of its own: several instances may work in one memory. */
  scratchRoom(): number;
  takeScratch(at: number): void;
  mark(): number;
  release(to: number): void;
  makeTriangles(positions: number, indices: number, order: number, count: number, triangles: number): void;
  buildBinary(positions: number, indices: number, count: number, boxes: number, order: number, nodes: number): number;
  foldToFour(binary: number, nodes: number): number;
  boxLeaves(nodes: number, count: number, triangles: number): void;
  refit(nodes: number, count: number, triangles: number): void;
  takeOrder(x: number, y: number, z: number, order: number): void;
  cutRanges(ranges: number, from: number, to: number, parts: number): void;
  orderRanges(ranges: number, from: number, to: number): void;
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
  castRays(
    tree: number,
    leaves: number,
    rays: number,
    count: number,
    first: number,
    end: number,
    from: number,
    limit: number,
    into: number,
  ): void;
  takeNearest(tree: number, leaves: number): void;
  nearestTriangles(points: number, count: number, first: number, end: number, limit: number, into: number): void;
  shrinkBalls(
    tree: number,
    leaves: number,
    balls: number,
    count: number,
    first: number,
    end: number,
    margin: number,
    into: number,
  ): void;
  runsNear(tree: number, levels: number, levelCount: number, reach: number, list: number): number;
}

/** Starts a kernel in a memory. `scratch` is where its room to work in stands, when it is known already. */
export function startKernel(module: WebAssembly.Module, memory: WebAssembly.Memory, scratch?: number): KernelExports {
  const abort = (): never => {
    throw new Error('the distance kernel stopped');
  };
  const { exports } = new WebAssembly.Instance(module, { env: { memory, abort } });
  const run = exports as unknown as KernelExports;
  if (scratch !== undefined) run.takeScratch(scratch);
  return run;
}
