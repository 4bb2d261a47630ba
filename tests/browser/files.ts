import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { writeBinaryPly } from '../../server/measure/ply.ts';
import { sampleBox } from '../../shared/geometry/generate.ts';
import { threeMfBytes } from '../../shared/geometry/mesh/export3mf.ts';
import { stlBytes } from '../../shared/geometry/mesh/exportStl.ts';
import { bendMesh, flipped, moved, pipeMesh } from '../../shared/geometry/mesh/shapes.fixture.ts';
import { sampleSurface } from '../../shared/geometry/mesh/surfaceSamples.ts';
import { triangleTree } from '../../shared/geometry/mesh/triangleTree.ts';
import { gaussian, seededRandom } from '../../shared/geometry/random.ts';
import type { Vec3 } from '../../shared/geometry/vector.ts';

/** Scan files made for the tests, in millimetres. */
const folder = mkdtempSync(join(tmpdir(), 'slipjoint-files-'));

function save(name: string, content: string | Buffer): string {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
}

function boxPoints(centre: Vec3, size: Vec3, spacing: number): Float32Array {
  return sampleBox({ centre, size }, { spacing, sigma: 0.0002 }, seededRandom(11));
}

const rows = (points: Float32Array): string[] => {
  const out: string[] = [];
  for (let i = 0; i < points.length; i += 3)
    out.push([0, 1, 2].map((k) => ((points[i + k] ?? 0) * 1000).toFixed(3)).join(' '));
  return out;
};

/** A box that stands in the way of runner 5: a clash to find. */
export const clashBox = (): string =>
  save('bracket.ply', writeBinaryPly(boxPoints([0.2, 0.12, -0.02], [0.03, 0.03, 0.03], 0.0015), 1000));

/** A box of 40 mm whose numbers are metres; the scanner missed two points of it. */
export const metresPly = (): string =>
  save(
    'metres.ply',
    writeBinaryPly(
      Float32Array.of(...boxPoints([-0.5, 0.3, 0.1], [0.04, 0.04, 0.04], 0.002), ...Array(6).fill(Number.NaN)),
    ),
  );

/** The same box as a scanner on the other side of the car has it: a quarter turn about z and a metre off. */
export function turnedBox(): string {
  const points = boxPoints([0.2, 0.12, -0.02], [0.03, 0.03, 0.03], 0.0015);
  const turned = points.map((_, i) => {
    const [x = 0, y = 0, z = 0] = points.subarray(i - (i % 3), i - (i % 3) + 3);
    return [1 - y, x, z + 0.5][i % 3] ?? 0;
  });
  return save('turned.ply', writeBinaryPly(turned, 1000));
}

/** A second look at that box, laid on the car by hand: a degree and some millimetres off, and without its back. */
export function askewBox(): string {
  const [c, s] = [Math.cos(0.016), Math.sin(0.016)];
  const axes = [
    [c, s, 0],
    [-s, c, 0],
    [0, 0, 1],
  ] as const;
  const box = { centre: [0.2015, 0.1188, -0.0191], size: [0.03, 0.03, 0.03], axes } as const;
  const points = sampleBox(box, { spacing: 0.0012, sigma: 0.0002 }, seededRandom(12));
  const seen = points.filter((_, i) => (points[i - (i % 3) + 1] ?? 0) < 0.128);
  return save('askew.ply', writeBinaryPly(seen, 1000));
}

/** Where that scanner has a place of the car. */
export const asTurned = ([x, y, z]: Vec3): Vec3 => [1 - y, x, z + 0.5];

/** A large binary scan, far from the header: long enough to see it travel. */
export const largeScan = (): string =>
  save('far-wall.ply', writeBinaryPly(boxPoints([0, 1.2, 0], [1.2, 0.05, 0.9], 0.0014), 1000));

export function asciiPly(): string {
  const points = rows(boxPoints([-0.4, 0.3, 0], [0.04, 0.04, 0.04], 0.002));
  const header = [
    'ply',
    'format ascii 1.0',
    `element vertex ${points.length}`,
    'property float x',
    'property float y',
    'property float z',
    'end_header',
  ];
  return save('post.ply', [...header, ...points, ''].join('\n'));
}

export const xyzText = (): string =>
  save('pipe.xyz', ['# x y z', ...rows(boxPoints([0.4, 0.3, 0], [0.03, 0.03, 0.2], 0.002)), ''].join('\n'));

/** A cube of 12 triangles as binary STL, 40 mm wide. */
export function stlCube(): string {
  const [c, h] = [[0, 0.45, 0.1], 0.02];
  const corner = (i: number): number[] => [0, 1, 2].map((k) => ((c[k] ?? 0) + ((i >> k) & 1 ? h : -h)) * 1000);
  const faces = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ];
  const triangles = faces.flatMap(([a = 0, b = 0, d = 0, e = 0]) => [
    [a, b, d],
    [a, d, e],
  ]);
  const out = Buffer.alloc(84 + 50 * triangles.length);
  out.writeUInt32LE(triangles.length, 80);
  triangles.forEach((triangle, t) => {
    triangle.forEach((i, v) => {
      corner(i).forEach((x, k) => void out.writeFloatLE(x, 84 + 50 * t + 12 + 12 * v + 4 * k));
    });
  });
  return save('cube.stl', out);
}

/** A pipe whose surface has a hole and a flipped triangle: what comes out of a careless export. */
export function damagedStl(): string {
  const pipe = moved(pipeMesh({ outer: 0.02, inner: 0.018 }, 0.12, 48), [0.14, 0.3, -0.1]);
  const flawed = flipped({ ...pipe, indices: pipe.indices.slice(6) }, (t) => t === 40);
  return save('outlet.stl', Buffer.from(stlBytes(flawed)));
}

/** A quarter bend of 16 gauge below the header, closed and sound. */
export function soundBend(): string {
  const bend = bendMesh({ bend: 0.09, outer: 0.032, inner: 0.0304 }, Math.PI / 2, { along: 24, facets: 48 });
  return save('outlet_bend.3mf', Buffer.from(threeMfBytes(moved(bend, [-0.2, 0.28, -0.06]))));
}

/** The outside of that bend as it was printed, in the frame of the scanner that looked at it: 40 um of noise. */
export function printedBend(): string {
  const random = seededRandom(13);
  const bend = bendMesh({ bend: 0.09, outer: 0.032, inner: 0.0304 }, Math.PI / 2, { along: 24, facets: 48 });
  const { count, places, normals } = sampleSurface(triangleTree(bend), 0.002);
  const points = new Float32Array(3 * count);
  for (let i = 0; i < count; i++) {
    const off = 4e-5 * gaussian(random);
    const [x = 0, y = 0, z = 0] = [0, 1, 2].map((k) => (places[3 * i + k] ?? 0) + off * (normals[3 * i + k] ?? 0));
    points.set([0.3 - z, 0.2 + x, y - 0.4], 3 * i);
  }
  return save('printed-bend.ply', writeBinaryPly(points, 1000));
}

export const emptyFile = (): string => save('nothing.ply', '');

/** Says it holds a million points, and holds none. */
export const lyingPly = (): string =>
  save(
    'lying.ply',
    'ply\nformat binary_little_endian 1.0\nelement vertex 1000000\nproperty float x\nproperty float y\nproperty float z\nend_header\n123456789012',
  );
