import type { EdgeTable } from './edges.ts';
import { NO_EDGE, NO_TRIANGLE } from './edges.ts';
import { Groups } from './groups.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import { boxOf, triangleCount } from './triangleMesh.ts';

/** Which shell each triangle belongs to: triangles that hang together over shared edges. Shells are numbered as they first come. */
export interface ShellTable {
  readonly count: number;
  readonly ofTriangle: Int32Array;
  readonly triangles: Uint32Array;
  /** Signed, m3; of no meaning for a shell with open edges. */
  readonly volumes: Float64Array;
}

/** Finds the shells of a mesh. A triangle that names a vertex twice has no edges and is a shell of its own. */
export function shellsOf(mesh: TriangleMesh, edges: EdgeTable): ShellTable {
  const total = triangleCount(mesh);
  const groups = new Groups(total);
  const { ofSide, first } = edges;
  for (let side = 0; side < ofSide.length; side++) {
    const edge = ofSide[side] ?? NO_EDGE;
    const onEdge = edge === NO_EDGE ? NO_TRIANGLE : (first[edge] ?? NO_TRIANGLE);
    const triangle = Math.floor(side / 3);
    if (onEdge !== NO_TRIANGLE && onEdge !== triangle) groups.join(onEdge, triangle);
  }
  const ofTriangle = new Int32Array(total);
  const numbers = new Map<number, number>();
  for (let t = 0; t < total; t++) {
    const group = groups.of(t);
    let number = numbers.get(group);
    if (number === undefined) {
      number = numbers.size;
      numbers.set(group, number);
    }
    ofTriangle[t] = number;
  }
  const shells = {
    count: numbers.size,
    ofTriangle,
    triangles: new Uint32Array(numbers.size),
    volumes: new Float64Array(numbers.size),
  };
  sumShells(mesh, shells);
  return shells;
}

/** Sums about the middle of the whole box: a closed shell has the same volume from anywhere, and from there it loses no digits. */
function sumShells(mesh: TriangleMesh, { ofTriangle, triangles, volumes }: ShellTable): void {
  const box = boxOf(mesh);
  if (!box) return;
  const [x0, y0, z0] = box.least.map((low, k) => (low + (box.greatest[k] ?? low)) / 2);
  const { positions, indices } = mesh;
  for (let t = 0; t < ofTriangle.length; t++) {
    const [a, b, c] = [3 * (indices[3 * t] ?? 0), 3 * (indices[3 * t + 1] ?? 0), 3 * (indices[3 * t + 2] ?? 0)];
    const ax = (positions[a] ?? 0) - (x0 ?? 0);
    const ay = (positions[a + 1] ?? 0) - (y0 ?? 0);
    const az = (positions[a + 2] ?? 0) - (z0 ?? 0);
    const bx = (positions[b] ?? 0) - (x0 ?? 0);
    const by = (positions[b + 1] ?? 0) - (y0 ?? 0);
    const bz = (positions[b + 2] ?? 0) - (z0 ?? 0);
    const cx = (positions[c] ?? 0) - (x0 ?? 0);
    const cy = (positions[c + 1] ?? 0) - (y0 ?? 0);
    const cz = (positions[c + 2] ?? 0) - (z0 ?? 0);
    const shell = ofTriangle[t] ?? 0;
    const six = ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
    triangles[shell] = (triangles[shell] ?? 0) + 1;
    volumes[shell] = (volumes[shell] ?? 0) + six / 6;
  }
}

/** Loops of open edges; two that touch in a vertex count as one. */
export function holesOf(mesh: TriangleMesh, edges: EdgeTable): number {
  const groups = new Groups(mesh.positions.length / 3);
  const ends = new Set<number>();
  for (let edge = 0; edge < edges.count; edge++) {
    if (edges.uses[edge] !== 1) continue;
    const [low, high] = [edges.low[edge] ?? 0, edges.high[edge] ?? 0];
    groups.join(low, high);
    ends.add(low).add(high);
  }
  const loops = new Set<number>();
  for (const vertex of ends) loops.add(groups.of(vertex));
  return loops.size;
}
