import { validateBytes } from 'gltf-validator';
import { GLTFLoader } from 'three/examples/jsm/loaders/GLTFLoader.js';
import { describe, expect, it } from 'vitest';
import { unitedTubes } from '../../server/measure/solid/united.ts';
import { buildCentreline } from '../../shared/geometry/centreline.ts';
import { threeMfBytes } from '../../shared/geometry/mesh/export3mf.ts';
import { glbBytes } from '../../shared/geometry/mesh/exportGlb.ts';
import { plyBytes } from '../../shared/geometry/mesh/exportPly.ts';
import { stlBytes } from '../../shared/geometry/mesh/exportStl.ts';
import { meshReport } from '../../shared/geometry/mesh/meshReport.ts';
import { repaired } from '../../shared/geometry/mesh/repair.ts';
import { bendMesh, flipped, unwelded } from '../../shared/geometry/mesh/shapes.fixture.ts';
import type { TriangleMesh } from '../../shared/geometry/mesh/triangleMesh.ts';
import { boxOf, joinMeshes, triangleCount, vertexCount } from '../../shared/geometry/mesh/triangleMesh.ts';
import { judgedBy } from './judge.ts';
import {
  admesh,
  admeshReads,
  assimp,
  assimpReads,
  both,
  facetsAtOpenEdges,
  lib3mf,
  lib3mfReads,
  weighedAfterAssimp,
} from './meshPrograms.ts';

/** What we hand out, read by programs that know nothing of us: a part, and a whole header of three runners into a collector. */

const part = bendMesh({ bend: 0.06, outer: 0.021, inner: 0.0195 }, 1.5, { along: 30, facets: 48 });
const united = await threeIntoOne();
/** Less the triangles that fell together when the union's corners were rounded to singles. */
const header = repaired(united, { dropCollapsed: true }).mesh;
const subjects: readonly (readonly [string, TriangleMesh])[] = [
  ['a part', part],
  ['a whole header', header],
];

async function threeIntoOne(): Promise<TriangleMesh> {
  const line = (nodes: readonly (readonly [number, number, number, number])[]) => {
    const centreline = buildCentreline(nodes.map(([x, y, z, radius]) => ({ x, y, z, radius })));
    if (!centreline.ok) throw new Error(centreline.code);
    return { centreline, outerRadius: 0.0212, innerRadius: 0.0192 };
  };
  const runners = (
    [
      [-0.11, 0.21],
      [0.013, 0.11],
      [0.127, 0.017],
    ] as const
  ).map(([x, y]) =>
    line([
      [x, 0.31, 0.003 * x, 0],
      [x + 0.007, y, 0.012, 0.05],
      [0.002, y - 0.05, -0.1, 0],
    ]),
  );
  const collector = line([
    [0.001, 0.25, -0.103, 0],
    [0.003, -0.08, -0.107, 0],
  ]);
  const made = await unitedTubes([...runners, { ...collector, outerRadius: 0.03, innerRadius: 0.028 }]);
  if (!made.ok) throw new Error(made.problem.message);
  return made.result;
}

/** Formats with their unit in metres; coordinates of each are singles or have nine digits. */
const formats: readonly (readonly [string, (mesh: TriangleMesh) => Uint8Array<ArrayBuffer>, number])[] = [
  ['stl', stlBytes, 0.001],
  ['3mf', threeMfBytes, 0.001],
  ['ply', plyBytes, 0.001],
  ['glb', glbBytes, 1],
];
/** As lib3mf counts units. */
const MILLIMETRES = 1;
/** Of volumes: admesh sums singles. */
const SINGLES = 1e-4;
/** Of coordinates, metres: the judges print six places of a millimetre or, of a GLB file, of a metre. */
const PRINTED = { millimetres: 2e-8, metres: 1e-6 };

const share = (one: number, other: number): number => Math.abs(one / other - 1);
const farthest = (theirs: readonly number[], ours: readonly number[] = [], unit: number): number =>
  theirs.reduce((most, x, i) => Math.max(most, Math.abs(x * unit - (ours[i] ?? Number.NaN))), 0);

describe('what is judged', () => {
  it.each(subjects)('%s is closed and of one piece', (_, mesh) => {
    const { shells, ...report } = meshReport(mesh);
    expect(report).toMatchObject({ openEdges: 0, nonManifoldEdges: 0, flippedEdges: 0, selfIntersections: 0 });
    expect(shells).toHaveLength(1);
  });
});

describe('STL', () => {
  const judged = judgedBy(admesh);
  for (const [name, mesh] of subjects) {
    judged(`${name}: closed, of one piece, of our volume and size, nothing to repair`, () => {
      const found = admeshReads(stlBytes(mesh));
      expect(found).toMatchObject({ parts: 1, facets: triangleCount(mesh), disconnected: 0, degenerate: 0 });
      expect(found).toMatchObject({ reversed: 0, added: 0 });
      expect(share(found.volume * 1e-9, meshReport(mesh).volume)).toBeLessThan(SINGLES);
      expect(farthest(found.least, boxOf(mesh)?.least, 0.001)).toBeLessThan(PRINTED.millimetres + 1e-7);
      expect(farthest(found.greatest, boxOf(mesh)?.greatest, 0.001)).toBeLessThan(PRINTED.millimetres + 1e-7);
    });
  }

  judged('a whole header as it was made one: as many triangles without area as we report', () => {
    expect(admeshReads(stlBytes(united)).degenerate).toBe(meshReport(united).degenerate);
  });

  judged('damage that we report is what it finds too', () => {
    const open = { ...part, indices: part.indices.slice(9) };
    expect(admeshReads(stlBytes(open)).disconnected).toBe(facetsAtOpenEdges(open));
    expect(meshReport(open).openEdges).toBeGreaterThan(0);
    const turned = flipped(part, (t) => t % 100 === 7);
    expect(admeshReads(stlBytes(turned)).reversed).toBe(Math.ceil((triangleCount(part) - 7) / 100));
    expect(meshReport(turned).flippedEdges).toBe(3 * admeshReads(stlBytes(turned)).reversed);
    const twice = joinMeshes([part, unwelded({ ...part, positions: part.positions.map((x) => x + 0.5) })]);
    expect(admeshReads(stlBytes(twice)).parts).toBe(2);
  });
});

describe('every format', () => {
  const read = judgedBy(assimp);
  const weighed = judgedBy(both);
  for (const [name, mesh] of subjects) {
    for (const [format, bytesOf, unit] of formats) {
      read(`${name} as ${format}: all triangles, all vertices, where they are`, () => {
        const found = assimpReads(bytesOf(mesh), format);
        expect(found).toMatchObject({ meshes: 1, faces: triangleCount(mesh), primitives: 'triangles' });
        // STL repeats a vertex in every triangle, and assimp joins those alike in their normals too.
        if (format !== 'stl') expect(found.vertices).toBe(vertexCount(mesh));
        const near = unit === 1 ? PRINTED.metres : PRINTED.millimetres + 1e-7;
        expect(farthest(found.least, boxOf(mesh)?.least, unit)).toBeLessThan(near);
        expect(farthest(found.greatest, boxOf(mesh)?.greatest, unit)).toBeLessThan(near);
      });

      weighed(`${name} as ${format}, written again as STL: closed, of our volume`, () => {
        const found = weighedAfterAssimp(bytesOf(mesh), format, unit * 1000);
        expect(found).toMatchObject({ parts: 1, facets: triangleCount(mesh), disconnected: 0, reversed: 0 });
        expect(share(found.volume * 1e-9, meshReport(mesh).volume)).toBeLessThan(SINGLES);
      });
    }
  }

  read('a file cut short is refused, so what it takes it has read', () => {
    for (const [format, bytesOf] of formats.filter(([name]) => name !== 'ply')) {
      const bytes = bytesOf(part);
      expect(() => assimpReads(bytes.subarray(0, bytes.length >> 1), format), format).toThrow(/assimp failed/);
    }
  });
});

describe('3MF', () => {
  const judged = judgedBy(lib3mf);
  for (const [name, mesh] of subjects) {
    judged(`${name}: read strictly without a warning, in millimetres, closed and turned outwards`, () => {
      const meshes = [{ vertices: vertexCount(mesh), triangles: triangleCount(mesh), closed: true }];
      expect(lib3mfReads(threeMfBytes(mesh))).toEqual({ warnings: 0, unit: MILLIMETRES, meshes });
    });
  }

  judged('damage is found, and a file cut short refused', () => {
    const open = { ...part, indices: part.indices.slice(3) };
    expect(lib3mfReads(threeMfBytes(open)).meshes[0]?.closed).toBe(false);
    const bytes = threeMfBytes(part);
    expect(() => lib3mfReads(bytes.subarray(0, bytes.length >> 1))).toThrow(/lib3mf refused/);
  });
});

describe('GLB', () => {
  it.each(subjects)('%s: the validator of those who write the standard has nothing to say', async (_, mesh) => {
    const { issues, info } = await validateBytes(glbBytes(mesh));
    expect(issues.messages).toEqual([]);
    expect(info).toMatchObject({
      version: '2.0',
      totalVertexCount: vertexCount(mesh),
      totalTriangleCount: triangleCount(mesh),
    });
  });

  it('of a damaged file the validator has', async () => {
    const bytes = glbBytes(part);
    bytes.fill(0xff, bytes.length - 12);
    expect((await validateBytes(bytes)).issues.numErrors).toBeGreaterThan(0);
  });

  it.each(subjects)('%s: three reads the same vertices and triangles', async (_, mesh) => {
    const { scene } = await new GLTFLoader().parseAsync(glbBytes(mesh).buffer, '');
    const found: { positions: ArrayLike<number>; indices: ArrayLike<number> | undefined }[] = [];
    scene.traverse((node) => {
      if (!('geometry' in node)) return;
      const geometry = node.geometry as import('three').BufferGeometry;
      found.push({ positions: geometry.getAttribute('position').array, indices: geometry.getIndex()?.array });
    });
    expect(found).toHaveLength(1);
    expect(Array.from(found[0]?.indices ?? [])).toEqual(Array.from(mesh.indices));
    expect(Array.from(found[0]?.positions ?? [])).toEqual(Array.from(mesh.positions, Math.fround));
  });

  it.each(subjects)('%s: chunks, views and bounds are as glTF 2.0 asks', (_, mesh) => {
    const bytes = glbBytes(mesh);
    const view = new DataView(bytes.buffer);
    const word = (at: number): number => view.getUint32(at, true);
    expect([word(0), word(4), word(8)]).toEqual([0x46546c67, 2, bytes.length]);
    const textLength = word(12);
    expect([textLength % 4, word(16)]).toEqual([0, 0x4e4f534a]);
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes.subarray(20, 20 + textLength));
    expect(text).toMatch(/^\{.*\} {0,3}$/);
    const binary = 20 + textLength + 8;
    const binaryLength = word(binary - 8);
    expect([binaryLength % 4, word(binary - 4), binary + binaryLength]).toEqual([0, 0x004e4942, bytes.length]);
    const { asset, buffers, bufferViews, accessors } = JSON.parse(text);
    expect(asset.version).toBe('2.0');
    expect(buffers).toEqual([{ byteLength: binaryLength }]);
    const [points, corners] = accessors;
    for (const { bufferView, componentType, count, type } of [points, corners]) {
      const { byteOffset, byteLength } = bufferViews[bufferView];
      expect([componentType === 5126, componentType === 5125].filter(Boolean)).toHaveLength(1);
      expect((binary + byteOffset) % 4).toBe(0);
      expect(byteLength).toBe(4 * count * (type === 'VEC3' ? 3 : 1));
      expect(byteOffset + byteLength).toBeLessThanOrEqual(binaryLength);
    }
    const numbers = new Float32Array(bytes.slice(binary, binary + 12 * points.count).buffer);
    const along = (axis: number): Float32Array => numbers.filter((_number, i) => i % 3 === axis);
    const most = (pick: typeof Math.min, axis: number): number => along(axis).reduce((a, b) => pick(a, b));
    expect(points.min).toEqual([0, 1, 2].map((axis) => most(Math.min, axis)));
    expect(points.max).toEqual([0, 1, 2].map((axis) => most(Math.max, axis)));
    const named = new Uint32Array(bytes.slice(binary + bufferViews[1].byteOffset, bytes.length).buffer);
    expect(named.reduce((a, b) => Math.max(a, b))).toBeLessThan(points.count);
    expect(corners.count % 3).toBe(0);
  });
});
