/** Takes one sampled point, file units. */
export type Emit = (x: number, y: number, z: number) => void;

/**
 * Samples a triangle by halving its longest edge until none is longer than `edge`; every corner of every part is emitted.
 * So each point of the triangle is within edge / sqrt(3) of a sample (the middle of an equilateral part is the worst place), and the
 * corners and the sharp edges of the surface are met exactly. A part lower than edge / 4 is sampled along its longest edge only (then the
 * worst place is hypot(1/4, 1/2) edge away, still less), so thin triangles cost in proportion to their length.
 * @param corners nine numbers, file units, finite
 * @param edge file units, > 0
 */
export function sampleTriangle(corners: ArrayLike<number>, edge: number, emit: Emit): void {
  const stack: number[] = Array.from(corners).slice(0, 9);
  for (let k = 0; k < 9; k += 3) emit(stack[k] ?? 0, stack[k + 1] ?? 0, stack[k + 2] ?? 0);
  for (let top = 0; top >= 0; ) {
    const longest = longestEdge(stack, top);
    const length = edgeLength(stack, top, longest);
    if (length <= edge || heightOver(stack, top, longest) <= edge / 4) {
      alongEdge(stack, top + 3 * longest, { to: top + 3 * ((longest + 1) % 3), steps: Math.ceil(length / edge), emit });
      top -= 9;
      continue;
    }
    halve(stack, top, longest);
    emit(stack[top + 9] ?? 0, stack[top + 10] ?? 0, stack[top + 11] ?? 0);
    top += 9;
  }
}

/** The corners themselves have been emitted already: only what lies between two of them is new. */
function alongEdge(t: readonly number[], from: number, way: { to: number; steps: number; emit: Emit }): void {
  for (let i = 1; i < way.steps; i++) {
    const k = i / way.steps;
    const [x, y, z] = [0, 1, 2].map((axis) => (t[from + axis] ?? 0) * (1 - k) + (t[way.to + axis] ?? 0) * k);
    way.emit(x ?? 0, y ?? 0, z ?? 0);
  }
}

/** Height of the triangle over one of its sides. */
function heightOver(t: readonly number[], top: number, side: number): number {
  const [a, b, c] = [top + 3 * side, top + 3 * ((side + 1) % 3), top + 3 * ((side + 2) % 3)];
  const [ax, ay, az] = [t[a] ?? 0, t[a + 1] ?? 0, t[a + 2] ?? 0];
  const [ux, uy, uz] = [(t[b] ?? 0) - ax, (t[b + 1] ?? 0) - ay, (t[b + 2] ?? 0) - az];
  const [vx, vy, vz] = [(t[c] ?? 0) - ax, (t[c + 1] ?? 0) - ay, (t[c + 2] ?? 0) - az];
  const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  return Math.sqrt((nx * nx + ny * ny + nz * nz) / (ux * ux + uy * uy + uz * uz));
}

/** Puts the two halves of the triangle at `top` in its place and above it; the one above begins with the middle of the edge cut. */
function halve(stack: number[], top: number, longest: number): void {
  const [a, b, c] = [top + 3 * longest, top + 3 * ((longest + 1) % 3), top + 3 * ((longest + 2) % 3)];
  for (let k = 0; k < 3; k++) {
    const middle = ((stack[a + k] ?? 0) + (stack[b + k] ?? 0)) / 2;
    stack[top + 9 + k] = middle;
    stack[top + 12 + k] = stack[b + k] ?? 0;
    stack[top + 15 + k] = stack[c + k] ?? 0;
    stack[b + k] = middle;
  }
}

/** Largest distance of any surface point to the nearest sample, for parts with no edge longer than `edge`; same unit. */
export const coverRadius = (edge: number): number => edge / Math.sqrt(3);

function edgeLength(t: readonly number[], top: number, side: number): number {
  const [a, b] = [top + 3 * side, top + 3 * ((side + 1) % 3)];
  const x = (t[a] ?? 0) - (t[b] ?? 0);
  const y = (t[a + 1] ?? 0) - (t[b + 1] ?? 0);
  const z = (t[a + 2] ?? 0) - (t[b + 2] ?? 0);
  return Math.sqrt(x * x + y * y + z * z);
}

function longestEdge(t: readonly number[], top: number): number {
  const [first, second, third] = [edgeLength(t, top, 0), edgeLength(t, top, 1), edgeLength(t, top, 2)];
  if (first >= second && first >= third) return 0;
  return second >= third ? 1 : 2;
}
