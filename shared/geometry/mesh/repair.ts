import type { Vec3 } from '../vector.ts';
import { add, scale } from '../vector.ts';
import type { EdgeTable } from './edges.ts';
import { edgesOf, NO_EDGE, NO_TRIANGLE } from './edges.ts';
import { degenerateFaces, duplicateFaces, facesOf } from './faces.ts';
import { groupsAround } from './inside.ts';
import { signedVolume } from './massProperties.ts';
import { RayCaster } from './rayHit.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import { boxOf, cornerAt, triangleCount } from './triangleMesh.ts';
import { triangleTree } from './triangleTree.ts';
import { weldVertices } from './weld.ts';

/** What can be asked of a repair; done in this order whatever the order asked in. */
export interface RepairSteps {
  /** Joins vertices nearer than this, metres; 0 joins only equal ones. */
  readonly weld?: number;
  /** Leaves out triangles that name a vertex twice, as welding makes them: a closed surface stays closed without them. */
  readonly dropCollapsed?: boolean;
  /** Leaves out all triangles without area; those of three vertices in line leave a slit behind, which is reported as open edges. */
  readonly dropDegenerate?: boolean;
  readonly dropDuplicate?: boolean;
  /**
   * Turns triangles so that neighbours over edges of two agree, then each closed patch as a whole so that an outer one encloses positive
   * volume and a cavity in it negative; an open patch the way most of its area was turned.
   */
  readonly orient?: boolean;
}

/** What a repair did; counts. */
export interface RepairAccount {
  readonly weldedVertices: number;
  readonly droppedDegenerate: number;
  readonly droppedDuplicate: number;
  readonly turnedTriangles: number;
  /** Edges at which the triangles could not be made to agree (a surface with one side only). */
  readonly unturnable: number;
}

/** The mesh after the steps asked for, and what they did. The mesh given is left as it was; holes stay open and crossings stay. */
export function repaired(
  mesh: TriangleMesh,
  steps: RepairSteps,
): { readonly mesh: TriangleMesh; readonly account: RepairAccount } {
  const welded = steps.weld === undefined ? { mesh, joined: 0 } : weldVertices(mesh, steps.weld);
  const solid = withoutFlat(welded.mesh, steps);
  const single = steps.dropDuplicate ? without(solid, duplicateFaces(solid)) : solid;
  const turned = steps.orient ? oriented(single) : { mesh: single, turned: 0, unturnable: 0 };
  const account: RepairAccount = {
    weldedVertices: welded.joined,
    droppedDegenerate: triangleCount(welded.mesh) - triangleCount(solid),
    droppedDuplicate: triangleCount(solid) - triangleCount(single),
    turnedTriangles: turned.turned,
    unturnable: turned.unturnable,
  };
  return { mesh: turned.mesh, account };
}

function withoutFlat(mesh: TriangleMesh, steps: RepairSteps): TriangleMesh {
  if (steps.dropDegenerate) return without(mesh, degenerateFaces(mesh));
  return steps.dropCollapsed ? without(mesh, collapsedFaces(mesh)) : mesh;
}

function collapsedFaces({ indices }: TriangleMesh): Uint8Array {
  const flags = new Uint8Array(indices.length / 3);
  for (let t = 0, o = 0; o < indices.length; t++, o += 3) {
    const a = indices[o];
    const b = indices[o + 1];
    const c = indices[o + 2];
    if (a === b || b === c || c === a) flags[t] = 1;
  }
  return flags;
}

function without(mesh: TriangleMesh, flags: Uint8Array): TriangleMesh {
  const { indices } = mesh;
  const kept = new Uint32Array(indices.length);
  let next = 0;
  for (let t = 0; t < flags.length; t++) {
    if (flags[t]) continue;
    kept.set(indices.subarray(3 * t, 3 * t + 3), next);
    next += 3;
  }
  return { positions: mesh.positions, indices: kept.slice(0, next) };
}

interface Turned {
  readonly mesh: TriangleMesh;
  readonly turned: number;
  readonly unturnable: number;
}

function oriented(mesh: TriangleMesh): Turned {
  const edges = edgesOf(mesh);
  const turn = new Uint8Array(triangleCount(mesh));
  const patches = spread(edges, turn);
  settle(mesh, patches, turn);
  const indices = mesh.indices.slice();
  let turned = 0;
  for (let t = 0; t < turn.length; t++) {
    if (!turn[t]) continue;
    turned++;
    indices[3 * t + 1] = mesh.indices[3 * t + 2] ?? 0;
    indices[3 * t + 2] = mesh.indices[3 * t + 1] ?? 0;
  }
  const out = { positions: mesh.positions, indices };
  const after = edgesOf(out);
  let unturnable = 0;
  for (let e = 0; e < after.count; e++) if (after.uses[e] === 2 && after.balance[e] !== 0) unturnable++;
  return { mesh: out, turned, unturnable };
}

/** Triangles that hang together over edges of two: the patch of each triangle, and which patches have no other edges. */
interface Patches {
  readonly of: Int32Array;
  readonly closed: boolean[];
}

/** Floods each patch, marking the triangles to turn so that all agree with its first. */
function spread(edges: EdgeTable, turn: Uint8Array): Patches {
  const of = new Int32Array(turn.length).fill(NO_TRIANGLE);
  const closed: boolean[] = [];
  const waiting: number[] = [];
  for (let seed = 0; seed < turn.length; seed++) {
    if (of[seed] !== NO_TRIANGLE) continue;
    const patch = closed.push(true) - 1;
    of[seed] = patch;
    waiting.push(seed);
    for (let t = waiting.pop(); t !== undefined; t = waiting.pop()) {
      for (let k = 0; k < 3; k++) {
        const next = neighbour(edges, t, k);
        if (next === NO_TRIANGLE) closed[patch] = false;
        if (next === NO_TRIANGLE || of[next] !== NO_TRIANGLE) continue;
        const edge = edges.ofSide[3 * t + k] ?? NO_EDGE;
        of[next] = patch;
        // Running along the edge the same way means that one of the two is the wrong way round.
        turn[next] = (turn[t] ?? 0) ^ (edges.balance[edge] === 0 ? 0 : 1);
        waiting.push(next);
      }
    }
  }
  return { of, closed };
}

function neighbour({ ofSide, uses, first, second }: EdgeTable, t: number, k: number): number {
  const edge = ofSide[3 * t + k] ?? NO_EDGE;
  if (edge === NO_EDGE || uses[edge] !== 2) return NO_TRIANGLE;
  return (first[edge] === t ? second[edge] : first[edge]) ?? NO_TRIANGLE;
}

/** Decides which of its two ways each patch as a whole is turned. */
function settle(mesh: TriangleMesh, { of, closed }: Patches, turn: Uint8Array): void {
  const faces = facesOf(mesh);
  const box = boxOf(mesh);
  const about: Vec3 = box ? box.least : [0, 0, 0];
  const volumes = new Float64Array(closed.length);
  const turnedArea = new Float64Array(closed.length);
  const largest = new Int32Array(closed.length).fill(NO_TRIANGLE);
  for (let t = 0; t < turn.length; t++) {
    const patch = of[t] ?? 0;
    const way = turn[t] ? -1 : 1;
    volumes[patch] = (volumes[patch] ?? 0) + way * signedVolume(mesh, [t], about);
    turnedArea[patch] = (turnedArea[patch] ?? 0) - way * (faces.area[t] ?? 0);
    const best = largest[patch] ?? NO_TRIANGLE;
    if (best === NO_TRIANGLE || (faces.area[t] ?? 0) > (faces.area[best] ?? 0)) largest[patch] = t;
  }
  const cavity = cavities(mesh, { of, closed }, largest);
  const whole = closed.map((isClosed, patch) =>
    isClosed ? (volumes[patch] ?? 0) < 0 !== (cavity[patch] ?? false) : (turnedArea[patch] ?? 0) > 0,
  );
  for (let t = 0; t < turn.length; t++) if (whole[of[t] ?? 0]) turn[t] = (turn[t] ?? 0) ^ 1;
}

/** Which closed patches lie in an odd number of other closed patches, so that they bound air. */
function cavities(mesh: TriangleMesh, { of, closed }: Patches, largest: Int32Array): readonly boolean[] {
  if (closed.filter(Boolean).length < 2) return closed.map(() => false);
  const tree = triangleTree(mesh);
  const caster = new RayCaster(tree);
  return closed.map((isClosed, patch) => {
    if (!isClosed) return false;
    const middle = middleOf(mesh, largest[patch] ?? 0);
    const around = groupsAround(caster, middle, (leaf) => {
      const other = of[tree.order[leaf] ?? 0] ?? -1;
      return other !== patch && closed[other] ? other : -1;
    });
    return around % 2 === 1;
  });
}

function middleOf(mesh: TriangleMesh, t: number): Vec3 {
  const [a, b, c] = [cornerAt(mesh, t, 0), cornerAt(mesh, t, 1), cornerAt(mesh, t, 2)];
  return scale(add(add(a, b), c), 1 / 3);
}
