import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { unzipSync } from 'fflate';
import type { BufferGeometry, Mesh } from 'three';
import { GLTFLoader } from 'three/examples/jsm/loaders/GLTFLoader.js';
import { OBJLoader } from 'three/examples/jsm/loaders/OBJLoader.js';
import { PLYLoader } from 'three/examples/jsm/loaders/PLYLoader.js';
import { STLLoader } from 'three/examples/jsm/loaders/STLLoader.js';
import { describe, expect, it } from 'vitest';
import { threeMfBytes } from '../../../../shared/geometry/mesh/export3mf.ts';
import { glbBytes } from '../../../../shared/geometry/mesh/exportGlb.ts';
import { plyBytes } from '../../../../shared/geometry/mesh/exportPly.ts';
import { stlBytes } from '../../../../shared/geometry/mesh/exportStl.ts';
import { massProperties } from '../../../../shared/geometry/mesh/massProperties.ts';
import { meshReport } from '../../../../shared/geometry/mesh/meshReport.ts';
import { bendMesh } from '../../../../shared/geometry/mesh/shapes.fixture.ts';
import type { TriangleMesh } from '../../../../shared/geometry/mesh/triangleMesh.ts';
import { meshFrom } from '../../../../shared/geometry/mesh/triangleMesh.ts';
import { asciiStl, binaryStl, boxTriangles, written } from '../upload.fixture.ts';
import {
  asciiPly,
  BOX,
  binaryPly,
  boxObject,
  glb,
  glbBox,
  model,
  obj,
  read,
  readAny,
  said,
  threeMf,
} from './mesh-file.fixture.ts';

const VOLUME = 0.1 * 0.06 * 0.04;
const clean = { openEdges: 0, nonManifoldEdges: 0, flippedEdges: 0, selfIntersections: 0, degenerate: 0, duplicate: 0 };
const glbFile = (nodes?: readonly object[]): Buffer => {
  const { json, binary } = glbBox(nodes);
  return glb(json, binary);
};
/** 30 to the right, turned a quarter about z: in the columns of 3MF. */
const TRANSFORM = '0 1 0 -1 0 0 0 0 1 30 0 0';

describe('reads the box from each format', () => {
  it.each<[string, string, string | Uint8Array, boolean]>([
    ['text STL', 'stl-ascii', asciiStl(boxTriangles()), false],
    [
      'text STL in capitals with old line ends',
      'stl-ascii',
      asciiStl(boxTriangles()).toUpperCase().replaceAll('\n', '\r\n'),
      false,
    ],
    ['binary STL whose title says solid', 'stl-binary', binaryStl(boxTriangles()), false],
    ['text PLY', 'ply-ascii', asciiPly(), false],
    ['text PLY of quads', 'ply-ascii', asciiPly({ quads: true }), false],
    ['little-endian PLY with more in it', 'ply-binary-le', binaryPly(true), false],
    ['big-endian PLY with more in it', 'ply-binary-be', binaryPly(false), false],
    ['OBJ of quads', 'obj', obj(), false],
    ['OBJ counted from the end', 'obj', obj({ relative: true }), false],
    ['3MF', '3mf', threeMf(model(boxObject(1), '<item objectid="1"/>')), true],
    ['3MF elsewhere in its archive', '3mf', threeMf(model(boxObject(1), '<item objectid="1"/>'), 'part.model'), true],
    ['GLB', 'glb', glbFile(), true],
  ])('%s', (_, format, content, unitStated) => {
    const found = read(content, { unitFactor: unitStated ? 77 : 0.001 });
    expect(found).toMatchObject({ format, unitStated });
    const report = meshReport(found.mesh);
    expect(report).toMatchObject({ ...clean, shells: [{ triangles: 12 }] });
    expect(report.volume / VOLUME).toBeCloseTo(1, 6);
    expect(found.mesh.positions).toHaveLength(24);
  });

  it('3MF: components in their places, mirrored ones turned round, the unit of the model, unbuilt objects left out', () => {
    const mirrored = '-1 0 0 0 1 0 0 0 1 0 0 0';
    const parts = `<object id="2"><components><component objectid="1" transform="${TRANSFORM}"/><component objectid="1" transform="${mirrored}"/></components></object>`;
    const xml = model(
      `${boxObject(1)}${boxObject(9)}${parts}`,
      '<item objectid="2" transform="1 0 0 0 1 0 0 0 1 0 0 500"/>',
    );
    const { mesh, unitFactor } = read(threeMf(xml.replace('millimeter', 'inch')));
    expect(unitFactor).toBe(0.0254);
    const report = meshReport(mesh);
    expect(report.shells.map((s) => s.volume / VOLUME / 25.4 ** 3)).toEqual([
      expect.closeTo(1, 6),
      expect.closeTo(1, 6),
    ]);
    const inches = Array.from(mesh.positions, (x) => Math.round(x / 0.0254));
    expect([0, 1, 2].map((k) => Math.min(...inches.filter((_, i) => i % 3 === k)))).toEqual([-100, 0, 500]);
    expect([0, 1, 2].map((k) => Math.max(...inches.filter((_, i) => i % 3 === k)))).toEqual([30, 100, 540]);
  });

  it('GLB: nodes in nodes, turned, scaled, by matrix, and mirrored', () => {
    const half = Math.SQRT1_2;
    const nodes = [
      { children: [1, 2, 3], translation: [1, 0, 0] },
      { mesh: 0, rotation: [0, 0, half, half], scale: [2, 2, 2] },
      { mesh: 0, matrix: [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 5, 1] },
      { mesh: 0, scale: [-1, 1, 1], translation: [0, 9, 0] },
    ];
    const { mesh } = read(glbFile(nodes));
    expect(meshReport(mesh).shells.map((s) => Math.round((s.volume / VOLUME) * 1e5) / 1e5)).toEqual([8, 1, 1]);
    const points = Array.from({ length: mesh.positions.length / 3 }, (_, i) =>
      Array.from(mesh.positions.subarray(3 * i, 3 * i + 3)),
    );
    const first = points.slice(0, 8).map(([x = 0, y = 0]) => [x, y].map((v) => Math.round(v * 100)).join(' '));
    expect(new Set(first)).toEqual(new Set(['100 0', '88 0', '100 20', '88 20']));
    expect(Math.max(...points.map(([, , z = 0]) => z))).toBeCloseTo(5.04, 5);
  });

  it('what the name says does not matter, nor a unit that the file states itself', () => {
    expect(read(asciiPly()).format).toBe('ply-ascii');
    expect(read(glbFile(), { unitFactor: 1000 }).unitFactor).toBe(1);
  });
});

describe('exports read back', () => {
  const bend = bendMesh({ bend: 0.06, outer: 0.021, inner: 0.0195 }, 1.5, { along: 20, facets: 24 });

  const sameShape = (found: TriangleMesh, mesh: TriangleMesh, digits: number): void => {
    expect(found.indices.length).toBe(mesh.indices.length);
    for (let i = 0; i < mesh.indices.length; i++) {
      for (let k = 0; k < 3; k++) {
        const [a, b] = [
          found.positions[3 * (found.indices[i] ?? 0) + k],
          mesh.positions[3 * (mesh.indices[i] ?? 0) + k],
        ];
        expect(Math.abs((a ?? 1) - (b ?? 0))).toBeLessThan(10 ** -digits);
      }
    }
    expect(massProperties(found).volume / massProperties(mesh).volume).toBeCloseTo(1, 5);
  };

  it.each<[string, (mesh: TriangleMesh) => Uint8Array, number]>([
    ['stl-binary', stlBytes, 8],
    ['ply-binary-le', plyBytes, 15],
    ['3mf', threeMfBytes, 10],
    ['glb', glbBytes, 8],
  ])('%s by our own reader, clean, and the same bytes each time', (format, write, digits) => {
    const found = read(write(bend));
    expect(found.format).toBe(format);
    expect(meshReport(found.mesh)).toMatchObject(clean);
    sameShape(found.mesh, bend, digits);
    expect(write(bend)).toEqual(write(bend));
  });

  const bytesOf = (bytes: Uint8Array): ArrayBuffer => Uint8Array.from(bytes).buffer;
  const fromThree = (geometry: BufferGeometry, factor: number): TriangleMesh => {
    const position = geometry.getAttribute('position');
    const index = geometry.getIndex();
    return meshFrom(
      Array.from(position.array, (x) => x * factor),
      index ? Array.from(index.array) : Array.from({ length: position.count }, (_, i) => i),
    );
  };

  it('by the loaders of three: STL, PLY, GLB', async () => {
    sameShape(fromThree(new STLLoader().parse(bytesOf(stlBytes(bend))), 0.001), bend, 8);
    sameShape(fromThree(new PLYLoader().parse(bytesOf(plyBytes(bend))), 0.001), bend, 7);
    const { scene } = await new GLTFLoader().parseAsync(bytesOf(glbBytes(bend)), '');
    const found: Mesh[] = [];
    scene.traverse((child) => {
      if ('isMesh' in child) found.push(child as Mesh);
    });
    expect(found).toHaveLength(1);
    sameShape(fromThree((found[0] as Mesh).geometry, 1), bend, 8);
  });

  it('OBJ: the same triangles as the loader of three gives', () => {
    const group = new OBJLoader().parse(obj());
    const three = fromThree((group.children[0] as Mesh).geometry, 0.001);
    expect(massProperties(three).volume / massProperties(read(obj()).mesh).volume).toBeCloseTo(1, 6);
    expect(three.indices.length).toBe(36);
  });

  it('3MF: its parts, by an unpacker alone', () => {
    const files = unzipSync(threeMfBytes(BOX));
    expect(Object.keys(files).sort()).toEqual(['3D/3dmodel.model', '[Content_Types].xml', '_rels/.rels']);
    const xml = new TextDecoder().decode(files['3D/3dmodel.model']);
    expect(xml.match(/<vertex /g)).toHaveLength(8);
    expect(xml).toContain('<vertex x="100" y="60" z="40"/>');
    expect(xml.match(/<triangle /g)).toHaveLength(12);
  });

  it('STL by admesh where it is: one part, no holes, the volume', ({ skip }) => {
    const stdout = said('admesh', [written(stlBytes(bend))]);
    skip(stdout === undefined, 'admesh is not on this machine');
    expect(stdout).toMatch(/Number of parts\s*:\s*1\b/);
    const volume = Number(/Volume\s*:\s*([\d.]+)/.exec(stdout ?? '')?.[1]);
    expect((volume * 1e-9) / massProperties(bend).volume).toBeCloseTo(1, 4);
  });
});

describe('STEP', () => {
  // The package's own sample parts: one cube of a metre written in three units.
  const samples = join(
    dirname(createRequire(import.meta.url).resolve('occt-import-js/package.json')),
    'test',
    'testfiles',
  );
  const sample = (name: string): Uint8Array => readFileSync(join(samples, name));

  it('takes the unit from the file, closed and turned outward', async () => {
    const sides = await Promise.all(
      ['mm', 'in', 'm'].map(async (unit) => {
        const found = await readAny(sample(`cube-units/cube-${unit}.step`));
        if (!('mesh' in found)) throw new Error(found.message);
        expect(found).toMatchObject({ format: 'step', unitStated: true, unitFactor: 1 });
        expect(meshReport(found.mesh)).toMatchObject(clean);
        return Math.cbrt(massProperties(found.mesh).volume);
      }),
    );
    const [mm = 0, inch = 0, metre = 0] = sides;
    expect([mm, inch, metre]).toEqual(Array(3).fill(expect.closeTo(1, 9)));
  });

  it('cuts round faces as finely as asked', async () => {
    const volumes = await Promise.all(
      [1e-3, 1e-5].map(async (chord) => {
        const found = await readAny(sample('rounded-cube/rounded-cube.step'), {
          unitFactor: 1,
          tolerance: { chord, turn: 0.5 },
        });
        if (!('mesh' in found)) throw new Error(found.message);
        expect(meshReport(found.mesh)).toMatchObject({ openEdges: 0, nonManifoldEdges: 0, flippedEdges: 0 });
        return { triangles: found.mesh.indices.length / 3, volume: massProperties(found.mesh).volume };
      }),
    );
    expect(volumes[1]?.triangles).toBeGreaterThan(volumes[0]?.triangles ?? 0);
    expect((volumes[1]?.volume ?? 0) / (volumes[0]?.volume ?? 1)).toBeCloseTo(1, 1);
  });

  it('refuses what is cut short, broken, or too much', async () => {
    const text = Buffer.from(sample('cube-units/cube-mm.step')).toString('latin1');
    expect(await readAny(text.slice(0, text.length / 2))).toMatchObject({ code: 'truncated' });
    expect(await readAny('ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\nENDSEC;\nEND-ISO-10303-21;\n')).toMatchObject({
      code: expect.stringMatching(/malformed|empty/),
    });
    expect(await readAny(text, { unitFactor: 1, maxTriangles: 5 })).toMatchObject({ code: 'too-large' });
    expect(() => read(text)).toThrow(/in a worker of its own/);
  });

  it('reads other formats the same way', async () => {
    expect(await readAny(asciiPly())).toMatchObject({ format: 'ply-ascii' });
  });
});
