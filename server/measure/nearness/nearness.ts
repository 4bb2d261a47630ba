import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import type { TubeShape } from '../../../shared/geometry/measurement.ts';
import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { type Motion, movedBy, undoing } from '../../../shared/geometry/motion.ts';
import { NEARNESS_FAR } from '../../../shared/geometry/nearness.ts';
import type { Attempt, HeaderAbout, Nearness } from '../jobs.ts';
import { isFault } from '../kernels/clearance.ts';
import { cutTiles } from '../tiles/cut.ts';
import { builtTube } from '../workers/tubes.ts';
import { type Field, meshField, tubeField } from './field.ts';

/** Fields kept of parts that were asked for before but not last, for an edit that is taken back (own: a byte a point each). */
const SPARE_FIELDS = 8;

interface Kept {
  /** Numbers in the grid, in the order of the tiles. */
  readonly order: Uint32Array;
  readonly fields: Map<string, Field>;
}

/** As long as a grid is kept, so are its order and the fields of what was near it: what did not move is not measured again. */
const kept = new WeakMap<PointGrid, Kept>();

/** How near each point of a scan is to the nearest of some tubes and meshes. */
export function nearnessOf(
  grid: PointGrid,
  about: HeaderAbout,
  meshOf: (name: string) => TriangleMesh,
): Attempt<Nearness> {
  const { tubes, meshes, motion, cap } = about;
  const there = kept.get(grid) ?? { order: tileOrder(grid), fields: new Map<string, Field>() };
  kept.set(grid, there);
  const wanted = [
    ...tubes.map((tube) => ({ key: JSON.stringify([cap, tube]), make: () => fieldOfTube(tube, grid, cap) })),
    ...meshes.map((name) => ({
      key: JSON.stringify([cap, name, motion]),
      make: () => fieldOfMesh(broughtBack(meshOf(name), motion), grid, cap),
    })),
  ];
  const nearest = new Uint8Array(grid.count).fill(NEARNESS_FAR);
  for (const { key, make } of wanted) {
    const known = there.fields.get(key);
    const made = known ? ({ ok: true, result: known } as const) : make();
    if (!made.ok) return made;
    // Taken out and put back: the ones asked for last stand at the end.
    there.fields.delete(key);
    there.fields.set(key, made.result);
    lower(nearest, made.result);
  }
  forget(there.fields, wanted.length + SPARE_FIELDS);
  return { ok: true, result: { levels: reordered(nearest, there.order) } };
}

function tileOrder(grid: PointGrid): Uint32Array {
  const order = new Uint32Array(grid.count);
  let done = 0;
  cutTiles(grid, ({ indices }) => {
    order.set(indices, done);
    done += indices.length;
  });
  return order;
}

function fieldOfTube(shape: TubeShape, grid: PointGrid, cap: number): Attempt<Field> {
  const built = builtTube(shape);
  return built.ok ? { ok: true, result: tubeField(built.tube, grid, cap) } : built;
}

function fieldOfMesh(mesh: TriangleMesh, grid: PointGrid, cap: number): Attempt<Field> {
  const field = meshField(mesh, grid, cap);
  return isFault(field)
    ? { ok: false, problem: { code: field.kind, message: field.message } }
    : { ok: true, result: field };
}

function broughtBack({ positions, indices }: TriangleMesh, motion: Motion | null): TriangleMesh {
  if (!motion) return { positions, indices };
  const back = undoing(motion);
  const moved = new Float64Array(positions.length);
  for (let o = 0; o < positions.length; o += 3)
    moved.set(movedBy(back, [positions[o] ?? 0, positions[o + 1] ?? 0, positions[o + 2] ?? 0]), o);
  return { positions: moved, indices };
}

function lower(least: Field, other: Field): void {
  for (let i = 0; i < least.length; i++) {
    const level = other[i] ?? NEARNESS_FAR;
    if (level < (least[i] ?? 0)) least[i] = level;
  }
}

function reordered(field: Field, order: Uint32Array): Field {
  const out = new Uint8Array(field.length);
  for (let i = 0; i < out.length; i++) out[i] = field[order[i] ?? 0] ?? NEARNESS_FAR;
  return out;
}

function forget(fields: Map<string, Field>, most: number): void {
  for (const oldest of fields.keys()) {
    if (fields.size <= most) return;
    fields.delete(oldest);
  }
}
