import { spawnSync } from 'node:child_process';
import { zipSync } from 'fflate';
import { boxMesh } from '../../../../shared/geometry/mesh/shapes.fixture.ts';
import type { TriangleMesh } from '../../../../shared/geometry/mesh/triangleMesh.ts';
import type { ReadProblem } from '../problem.ts';
import { written } from '../upload.fixture.ts';
import type { MeshReadOptions, ReadMesh } from './mesh-file.ts';
import { readAnyMesh, readMesh } from './mesh-file.ts';

export const MM: MeshReadOptions = { unitFactor: 0.001 };

/** A box in metres, 0.1 x 0.06 x 0.04. */
export const BOX: TriangleMesh = boxMesh([0.1, 0.06, 0.04]);

/** Coordinates of the box in millimetres. */
const BOX_MM = Array.from(BOX.positions, (x) => Math.round(x * 1000));
const rows = (per: number, list: ArrayLike<number>): number[][] =>
  Array.from({ length: list.length / per }, (_, i) => Array.from({ length: per }, (__, k) => list[per * i + k] ?? 0));
const vertexRows = rows(3, BOX_MM);
const triangleRows = rows(3, BOX.indices);

/** The mesh in a file; throws when it was refused. */
export function read(content: string | Uint8Array, options = MM): ReadMesh {
  const outcome = readMesh(written(content), options);
  if (!outcome.ok) throw new Error(outcome.problem.message);
  return outcome.read;
}

/** Why a file was refused; throws when it was read. */
export function problemOf(content: string | Uint8Array, options = MM): ReadProblem {
  const outcome = readMesh(written(content), options);
  if (outcome.ok) throw new Error(`expected a refusal, read ${outcome.read.mesh.indices.length / 3} triangles`);
  return outcome.problem;
}

/** As read, for files that may be STEP. */
export async function readAny(content: string | Uint8Array, options = MM): Promise<ReadMesh | ReadProblem> {
  const outcome = await readAnyMesh(written(content), options);
  return outcome.ok ? outcome.read : outcome.problem;
}

/** The box as text PLY, quads or triangles. */
export function asciiPly({ quads = false } = {}): string {
  const faces = quads
    ? triangleRows.filter((_, i) => i % 2 === 0).map(([a, b, c], i) => [a, b, c, triangleRows[2 * i + 1]?.[2]])
    : triangleRows;
  return [
    'ply',
    'format ascii 1.0',
    `element vertex ${vertexRows.length}`,
    'property float x',
    'property float y',
    'property float z',
    `element face ${faces.length}`,
    'property list uchar int vertex_indices',
    'end_header',
    ...vertexRows.map((v) => v.join(' ')),
    ...faces.map((f) => `${f.length} ${f.join(' ')}`),
    '',
  ].join('\n');
}

/** The box as binary PLY with colours at the vertices, a flag and a list at each face, and edges after them. */
export function binaryPly(little: boolean): Buffer {
  const head = [
    'ply',
    `format binary_${little ? 'little' : 'big'}_endian 1.0`,
    'comment made up',
    `element vertex ${vertexRows.length}`,
    ...['double x', 'double y', 'double z', 'uchar red'].map((p) => `property ${p}`),
    `element face ${triangleRows.length}`,
    'property uchar flag',
    'property list uchar ushort vertex_index',
    'property list uint float texcoord',
    'element edge 1',
    'property int vertex1',
    'end_header\n',
  ].join('\n');
  const parts: Buffer[] = [Buffer.from(head)];
  const u32 = (x: number): Buffer => Buffer.from(Uint32Array.of(x).buffer);
  const swapped = (b: Buffer): Buffer => (little ? b : Buffer.from(b).reverse());
  for (const v of vertexRows) {
    for (const x of v) parts.push(swapped(Buffer.from(Float64Array.of(x).buffer)));
    parts.push(Buffer.from([200]));
  }
  for (const f of triangleRows) {
    parts.push(Buffer.from([7, 3]));
    for (const v of f) parts.push(swapped(Buffer.from(Uint16Array.of(v).buffer)));
    parts.push(swapped(u32(2)), swapped(u32(0)), swapped(u32(0)));
  }
  parts.push(swapped(u32(0)));
  return Buffer.concat(parts);
}

/** The box as OBJ with quads, normals, groups and vertices counted from the end. */
export function obj({ relative = false } = {}): string {
  const faces = triangleRows
    .filter((_, i) => i % 2 === 0)
    .map(([a = 0, b = 0, c = 0], i) => [a, b, c, triangleRows[2 * i + 1]?.[2] ?? 0]);
  const name = (v: number): string => (relative ? String(v - vertexRows.length) : `${v + 1}//1`);
  return [
    '# made up',
    'mtllib nothing.mtl',
    'o box',
    ...vertexRows.map((v) => `v ${v.join(' ')}`),
    'vn 0 0 1',
    'vt 0 0',
    'usemtl steel',
    's off',
    ...faces.map((f) => `f ${f.map(name).join(' ')}`),
    '',
  ].join('\n');
}

const MODEL_HEAD =
  '<?xml version="1.0"?>\n<!-- <vertex x="1"/> > -->\n<model unit="millimeter" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">\n<resources>\n';

/** The XML of one object of the box. */
export const boxObject = (id: number): string =>
  `<object id="${id}" name="a > b" type="model"><mesh><vertices>${vertexRows
    .map(([x, y, z]) => `<vertex z="${z}" x='${x}' y = "${y}" />`)
    .join('\n')}</vertices><triangles>${triangleRows
    .map(([a, b, c]) => `<triangle pid="1" v1="${a}" v2="${b}" v3="${c}" p1="0"/>`)
    .join('')}</triangles></mesh></object>`;

/** A 3MF model of resources and build items. */
export const model = (resources: string, items: string): string =>
  `${MODEL_HEAD}${resources}</resources><build>${items}</build></model>`;

/** A 3MF file with this model. */
export const threeMf = (xml: string, name = '3D/3dmodel.model'): Uint8Array =>
  zipSync({ [name]: new TextEncoder().encode(xml), 'Metadata/note.txt': new Uint8Array(3) });

/** A GLB file from its JSON and numbers. */
export function glb(json: object, binary: Uint8Array = new Uint8Array(0)): Buffer {
  const raw = JSON.stringify(json);
  const text = raw.padEnd(4 * Math.ceil(raw.length / 4));
  const head = Buffer.alloc(20);
  head.write('glTF', 'latin1');
  head.writeUInt32LE(2, 4);
  head.writeUInt32LE(28 + text.length + binary.length, 8);
  head.writeUInt32LE(text.length, 12);
  head.writeUInt32LE(0x4e4f534a, 16);
  const chunk = Buffer.alloc(8);
  chunk.writeUInt32LE(binary.length, 0);
  chunk.writeUInt32LE(0x004e4942, 4);
  return Buffer.concat([head, Buffer.from(text), chunk, binary]);
}

/** JSON and numbers of the box in metres, vertex numbers of two bytes. */
export function glbBox(nodes: readonly object[] = [{ mesh: 0 }]): {
  json: Record<string, unknown>;
  binary: Uint8Array;
} {
  const points = new Uint8Array(Float32Array.from(BOX.positions).buffer);
  const sides = new Uint8Array(Uint16Array.from(BOX.indices).buffer);
  const binary = new Uint8Array(points.length + sides.length);
  binary.set(points);
  binary.set(sides, points.length);
  const json = {
    asset: { version: '2.0' },
    scenes: [{ nodes: [0] }],
    nodes,
    meshes: [{ primitives: [{ attributes: { POSITION: 0 }, indices: 1 }] }],
    buffers: [{ byteLength: binary.length }],
    bufferViews: [
      { buffer: 0, byteLength: points.length },
      { buffer: 0, byteOffset: points.length, byteLength: sides.length },
    ],
    accessors: [
      { bufferView: 0, componentType: 5126, count: 8, type: 'VEC3' },
      { bufferView: 1, componentType: 5123, count: 36, type: 'SCALAR' },
    ],
  };
  return { json, binary };
}

/** What a program says, or undefined when it is not on this machine; then that is said loudly. */
export function said(program: string, args: readonly string[]): string | undefined {
  const { error, stdout } = spawnSync(program, args, { encoding: 'utf8' });
  if (!error) return stdout;
  process.stderr.write(`SKIPPED: ${program} is not on this machine, its check of our meshes was not made\n`);
  return undefined;
}
