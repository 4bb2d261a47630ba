import { z } from 'zod';
import { grouped, refuse } from '../problem.ts';
import type { Source } from '../source.ts';
import { headOf } from '../source.ts';
import type { MeshSink } from './mesh-sink.ts';
import type { Placement } from './placement.ts';
import { columnsPlacement, IN_PLACE, mirrors, placed, placedIn } from './placement.ts';

/* Source: glTF 2.0 specification (Khronos, 2017), chapters 3 to 5 (memory). Lengths in it are metres. */

const MAGIC = 0x46546c67;
const [JSON_CHUNK, BIN_CHUNK] = [0x4e4f534a, 0x004e4942];
const MOST_JSON = 1 << 25;
const DEEPEST = 64;
const TRIANGLES = 4;

const index = z.int().min(0);
const glb = z.object({
  extensionsRequired: z.array(z.string()).default([]),
  scene: index.optional(),
  scenes: z.array(z.object({ nodes: z.array(index).default([]) })).default([]),
  nodes: z
    .array(
      z.object({
        mesh: index.optional(),
        children: z.array(index).default([]),
        matrix: z.array(z.number()).length(16).optional(),
        translation: z.tuple([z.number(), z.number(), z.number()]).default([0, 0, 0]),
        rotation: z.tuple([z.number(), z.number(), z.number(), z.number()]).default([0, 0, 0, 1]),
        scale: z.tuple([z.number(), z.number(), z.number()]).default([1, 1, 1]),
      }),
    )
    .default([]),
  meshes: z
    .array(
      z.object({
        primitives: z.array(
          z.object({
            attributes: z.record(z.string(), index),
            indices: index.optional(),
            mode: z.int().default(TRIANGLES),
          }),
        ),
      }),
    )
    .default([]),
  accessors: z
    .array(
      z.object({
        bufferView: index.optional(),
        byteOffset: index.default(0),
        componentType: z.int(),
        count: index,
        type: z.string(),
        sparse: z.unknown().optional(),
      }),
    )
    .default([]),
  bufferViews: z
    .array(
      z.object({
        buffer: index,
        byteOffset: index.default(0),
        byteLength: index,
        byteStride: z.int().min(4).max(252).optional(),
      }),
    )
    .default([]),
  buffers: z.array(z.object({ uri: z.string().optional(), byteLength: index })).default([]),
});

type Gltf = z.infer<typeof glb>;
type GltfNode = Gltf['nodes'][number];
type Primitive = Gltf['meshes'][number]['primitives'][number];

interface Glb {
  readonly json: Gltf;
  readonly binary: DataView;
}

/** Reads the triangles of a GLB file's scene, every node in its place, in metres; equal vertices are joined, as each face has its own. */
export function readGlbMesh(source: Source, sink: MeshSink): void {
  const file = readChunks(source);
  const { json } = file;
  const [extension] = json.extensionsRequired;
  if (extension !== undefined) {
    refuse('unsupported', `Expected plain binary glTF, the file needs "${extension.slice(0, 60)}". Export it without.`);
  }
  const roots = json.scenes[json.scene ?? 0]?.nodes ?? Array.from(json.nodes.keys()).filter((n) => isRoot(json, n));
  const walk = { file, sink, visits: 0 };
  for (const root of roots) addNode(walk, root, IN_PLACE, 0);
}

const isRoot = ({ nodes }: Gltf, n: number): boolean => !nodes.some(({ children }) => children.includes(n));

function readChunks(source: Source): Glb {
  const head = headOf(source, 20);
  if (head.length < 20 || head.readUInt32LE(0) !== MAGIC) {
    refuse('truncated', `Expected a GLB header of 20 bytes, the file has ${grouped(source.size)}.`);
  }
  const [version, length, jsonLength] = [head.readUInt32LE(4), head.readUInt32LE(8), head.readUInt32LE(12)];
  if (version !== 2) refuse('unsupported', `Expected version 2 of binary glTF, got ${version}.`);
  if (length > source.size) {
    refuse('truncated', `The header promises ${grouped(length)} bytes, the file has ${grouped(source.size)}.`);
  }
  if (head.readUInt32LE(16) !== JSON_CHUNK) refuse('bad-header', 'Expected a JSON chunk first in the GLB file.');
  if (jsonLength > MOST_JSON || 20 + jsonLength > length) {
    refuse('bad-header', `Expected a JSON chunk of at most ${grouped(MOST_JSON)} bytes, got ${grouped(jsonLength)}.`);
  }
  const text = Buffer.alloc(jsonLength);
  source.read(text, 20);
  return { json: parseJson(text.toString('utf8')), binary: readBinary(source, 20 + jsonLength, length) };
}

function parseJson(text: string): Gltf {
  let raw: unknown;
  try {
    raw = JSON.parse(text);
  } catch {
    refuse('malformed', 'Expected JSON in the GLB file, it cannot be read as that.');
  }
  const parsed = glb.safeParse(raw);
  if (parsed.success) return parsed.data;
  const [issue] = parsed.error.issues;
  return refuse('malformed', `Expected glTF 2.0; ${issue?.path.join('.') ?? ''}: ${issue?.message ?? 'not that'}.`);
}

function readBinary(source: Source, at: number, length: number): DataView {
  const head = Buffer.alloc(8);
  if (at + 8 > length || source.read(head, at) < 8) return new DataView(new ArrayBuffer(0));
  const bytes = head.readUInt32LE(0);
  if (head.readUInt32LE(4) !== BIN_CHUNK) return new DataView(new ArrayBuffer(0));
  if (at + 8 + bytes > length) {
    refuse('truncated', `The GLB file promises ${grouped(bytes)} bytes of numbers and ends before that.`);
  }
  const binary = new Uint8Array(bytes);
  source.read(binary, at + 8);
  return new DataView(binary.buffer);
}

interface Walk {
  readonly file: Glb;
  readonly sink: MeshSink;
  visits: number;
}

function addNode(walk: Walk, n: number, outer: Placement, depth: number): void {
  const { json } = walk.file;
  const node = json.nodes[n];
  if (!node) refuse('malformed', `Expected ${json.nodes.length} nodes, the scene names number ${n}.`);
  // A node has one parent: more visits than nodes are a circle or a bomb of nodes that share children.
  if (depth > DEEPEST || ++walk.visits > json.nodes.length) {
    refuse('malformed', `Expected a tree of nodes at most ${DEEPEST} deep, one is its own part or part of two.`);
  }
  const placement = placedIn(outer, placementOf(node));
  if (node.mesh !== undefined) {
    const mesh = json.meshes[node.mesh];
    if (!mesh) refuse('malformed', `Expected ${json.meshes.length} meshes, node ${n} names number ${node.mesh}.`);
    for (const primitive of mesh.primitives) addPrimitive(walk, primitive, placement);
  }
  for (const child of node.children) addNode(walk, child, placement, depth + 1);
}

function placementOf({ matrix, translation, rotation, scale }: GltfNode): Placement {
  if (matrix) return columnsPlacement([0, 4, 8, 12].flatMap((column) => matrix.slice(column, column + 3)));
  const [x, y, z, w] = rotation;
  const turn = [
    [1 - 2 * (y * y + z * z), 2 * (x * y + z * w), 2 * (x * z - y * w)],
    [2 * (x * y - z * w), 1 - 2 * (x * x + z * z), 2 * (y * z + x * w)],
    [2 * (x * z + y * w), 2 * (y * z - x * w), 1 - 2 * (x * x + y * y)],
  ];
  return columnsPlacement([...turn.flatMap((column, k) => column.map((v) => v * (scale[k] ?? 1))), ...translation]);
}

const FLOAT = 5126;
/** Bytes of the types that vertex numbers may have. */
const INDEX_BYTES: Readonly<Record<number, number>> = { 5121: 1, 5123: 2, 5125: 4 };

interface Numbers {
  readonly at: number;
  readonly stride: number;
  readonly count: number;
  readonly type: number;
}

function addPrimitive({ file, sink }: Walk, primitive: Primitive, m: Placement): void {
  if (primitive.mode !== TRIANGLES) {
    refuse('unsupported', `Expected triangles (mode ${TRIANGLES}) in the GLB file, got mode ${primitive.mode}.`);
  }
  const { POSITION } = primitive.attributes;
  if (POSITION === undefined) refuse('no-coordinates', 'Expected POSITION in each part of the GLB file, one has none.');
  const points = numbersOf(file, POSITION, { type: 'VEC3', bytes: { [FLOAT]: 12 } });
  const list =
    primitive.indices === undefined
      ? undefined
      : numbersOf(file, primitive.indices, { type: 'SCALAR', bytes: INDEX_BYTES });
  const sides = list?.count ?? points.count;
  if (sides % 3 !== 0) refuse('malformed', `Expected vertex numbers in threes, got ${grouped(sides)}.`);
  sink.expect(sink.triangleCount + sides / 3);
  const corners = list ? vertexNumbers(file.binary, list) : Uint32Array.from({ length: sides }, (_, i) => i);
  let largest = 0;
  for (let i = 0; i < sides; i++) largest = Math.max(largest, corners[i] ?? 0);
  if (sides > 0 && largest >= points.count) {
    refuse('malformed', `Expected vertex numbers below ${grouped(points.count)}, got ${grouped(largest)}.`);
  }
  const numbers = placePoints(file.binary, points, { m, sink });
  const [second, third] = mirrors(m) ? [2, 1] : [1, 2];
  const joined = new Uint32Array(sides);
  for (let i = 0; i < sides; i += 3) {
    joined[i] = numbers[corners[i] ?? 0] ?? 0;
    joined[i + 1] = numbers[corners[i + second] ?? 0] ?? 0;
    joined[i + 2] = numbers[corners[i + third] ?? 0] ?? 0;
  }
  sink.triangles(joined);
}

/** Puts the points of a part in place; gives the joined number of each. */
function placePoints(
  binary: DataView,
  { at, stride, count }: Numbers,
  { m, sink }: { readonly m: Placement; readonly sink: MeshSink },
): Uint32Array {
  const numbers = new Uint32Array(count);
  sink.expectCorners(count);
  for (let i = 0, o = at; i < count; i++, o += stride) {
    const x = binary.getFloat32(o, true);
    const y = binary.getFloat32(o + 4, true);
    const z = binary.getFloat32(o + 8, true);
    numbers[i] = sink.corner(placed(m, 0, x, y, z), placed(m, 1, x, y, z), placed(m, 2, x, y, z), i + 1);
  }
  return numbers;
}

/** A loop for each type: a choice in the loop would cost more than the reading. */
function vertexNumbers(binary: DataView, { at, stride, count, type }: Numbers): Uint32Array {
  const numbers = new Uint32Array(count);
  if (type === 5121) for (let i = 0, o = at; i < count; i++, o += stride) numbers[i] = binary.getUint8(o);
  else if (type === 5123) for (let i = 0, o = at; i < count; i++, o += stride) numbers[i] = binary.getUint16(o, true);
  else for (let i = 0, o = at; i < count; i++, o += stride) numbers[i] = binary.getUint32(o, true);
  return numbers;
}

/** Where an accessor's numbers lie, all of them inside the file. */
function numbersOf(
  { json, binary }: Glb,
  n: number,
  expected: { readonly type: string; readonly bytes: Readonly<Record<number, number>> },
): Numbers {
  const accessor = json.accessors[n];
  const view = json.bufferViews[accessor?.bufferView ?? -1];
  if (!accessor || !view) refuse('malformed', `Expected numbers at accessor ${n} of the GLB file, found none.`);
  if (accessor.sparse !== undefined) refuse('unsupported', 'Expected numbers in full, the GLB file has sparse ones.');
  if (view.buffer !== 0 || json.buffers[0]?.uri !== undefined) {
    refuse('unsupported', 'Expected all numbers inside the GLB file, some lie in another file.');
  }
  const bytes = expected.bytes[accessor.componentType];
  if (accessor.type !== expected.type || bytes === undefined) {
    refuse(
      'unsupported',
      `Expected ${expected.type} of the usual number type, got ${accessor.type.slice(0, 20)} of ${accessor.componentType}.`,
    );
  }
  const stride = view.byteStride ?? bytes;
  const at = view.byteOffset + accessor.byteOffset;
  const end = accessor.count === 0 ? at : at + (accessor.count - 1) * stride + bytes;
  if (end > binary.byteLength || end > view.byteOffset + view.byteLength) {
    refuse(
      'truncated',
      `Expected ${grouped(accessor.count)} numbers up to byte ${grouped(end)}, there are ${grouped(binary.byteLength)}.`,
    );
  }
  return { at, stride, count: accessor.count, type: accessor.componentType };
}
