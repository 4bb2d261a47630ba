import { refuse } from '../problem.ts';
import type { Source } from '../source.ts';
import type { MeshSink } from './mesh-sink.ts';
import type { Model, ObjectMesh, PlacedObject } from './model-3mf.ts';
import { ModelScan } from './model-3mf.ts';
import type { Placement } from './placement.ts';
import { mirrors, placed, placedIn } from './placement.ts';
import type { ZipEntry } from './zip.ts';
import { unpack, zipEntries } from './zip.ts';

/** Deepest nesting of components, and most objects put in place (own): components of components double with every level. */
const DEEPEST = 32;
const MOST_PLACED = 100_000;

/**
 * Reads what a 3MF file says is to be built, components in their places, and gives metres per unit of it. Objects that are not built are
 * left out. The model is unpacked and read piece by piece.
 */
export function read3mfMesh(source: Source, sink: MeshSink): number {
  const scan = new ModelScan(sink);
  unpack(source, modelEntry(zipEntries(source)), (piece) => scan.push(piece));
  const model = scan.end();
  if (model.build.length === 0) refuse('empty', 'Expected items to build in the 3MF model, found none.');
  const count = { placed: 0 };
  for (const use of model.build) build(model, use, { sink, above: [], count });
  return model.unitFactor;
}

function modelEntry(entries: readonly ZipEntry[]): ZipEntry {
  const models = entries.filter(({ name }) => /\.model$/i.test(name));
  const entry = models.find(({ name }) => /^\/?3D\/3dmodel\.model$/i.test(name)) ?? models[0];
  if (entry) return entry;
  const names = entries.slice(0, 5).map(({ name }) => `"${name.slice(0, 40)}"`);
  return refuse('unsupported', `Expected a 3MF archive with a .model in it, got ${names.join(', ') || 'no files'}.`);
}

interface Building {
  readonly sink: MeshSink;
  /** Objects that this one is part of. */
  readonly above: readonly string[];
  readonly count: { placed: number };
}

function build(model: Model, { object, placement }: PlacedObject, { sink, above, count }: Building): void {
  if (above.includes(object) || above.length >= DEEPEST) {
    refuse(
      'malformed',
      `Expected components in at most ${DEEPEST} levels, object "${object.slice(0, 40)}" is part of itself.`,
    );
  }
  if (++count.placed > MOST_PLACED) {
    refuse('too-large', `Expected at most ${MOST_PLACED} objects to build, components of components give more.`);
  }
  const [mesh, parts] = [model.meshes.get(object), model.parts.get(object)];
  if (!mesh && !parts) {
    refuse('malformed', `Expected an object "${object.slice(0, 40)}" in the 3MF model, found none of that number.`);
  }
  if (mesh) addObject(mesh, placement, sink);
  for (const part of parts ?? []) {
    const inner = { object: part.object, placement: placedIn(placement, part.placement) };
    build(model, inner, { sink, count, above: [...above, object] });
  }
}

function addObject({ positions, indices }: ObjectMesh, m: Placement, sink: MeshSink): void {
  const base = sink.vertexCount;
  for (let o = 0; o < positions.length; o += 3) {
    const [x, y, z] = [positions[o] ?? 0, positions[o + 1] ?? 0, positions[o + 2] ?? 0];
    sink.vertex(placed(m, 0, x, y, z), placed(m, 1, x, y, z), placed(m, 2, x, y, z), o / 3 + 1);
  }
  const count = positions.length / 3;
  const mirrored = mirrors(m);
  for (let o = 0; o < indices.length; o += 3) {
    const [a, b, c] = [indices[o] ?? 0, indices[o + 1] ?? 0, indices[o + 2] ?? 0];
    // Checked here: past the end of this object's vertices lie those of the next.
    if (a >= count || b >= count || c >= count) {
      refuse('malformed', `Expected vertex numbers below ${count}, triangle ${o / 3 + 1} names ${Math.max(a, b, c)}.`);
    }
    if (mirrored) sink.triangle(base + a, base + c, base + b);
    else sink.triangle(base + a, base + b, base + c);
  }
}
