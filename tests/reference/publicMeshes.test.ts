import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import bunny from 'bunny';
import { describe, expect, it } from 'vitest';
import { read } from '../../server/measure/readers/mesh/mesh-file.fixture.ts';
import { type MeshOutcome, type ReadMesh, readMesh } from '../../server/measure/readers/mesh/mesh-file.ts';
import { threeMfBytes } from '../../shared/geometry/mesh/export3mf.ts';
import { glbBytes } from '../../shared/geometry/mesh/exportGlb.ts';
import { plyBytes } from '../../shared/geometry/mesh/exportPly.ts';
import { stlBytes } from '../../shared/geometry/mesh/exportStl.ts';
import { massProperties } from '../../shared/geometry/mesh/massProperties.ts';
import { meshReport } from '../../shared/geometry/mesh/meshReport.ts';
import type { TriangleMesh } from '../../shared/geometry/mesh/triangleMesh.ts';
import { boxOf, triangleCount, vertexCount } from '../../shared/geometry/mesh/triangleMesh.ts';
import { apart, judgedBy } from './judge.ts';
import { admesh, admeshReads, facetsAtOpenEdges, filledByAdmesh } from './meshPrograms.ts';

/*
 * Meshes that others made, through the readers of uploads and into the report: npm stl-models 0.12.0 (MIT) and npm bunny 1.0.1 (public
 * domain; a scan of a clay rabbit, cut down and closed). Against closed forms, against each other's encoding, and against admesh.
 * What is not compared: admesh sums singles and, before it weighs, joins, fills and turns; so the volume of an open mesh is compared after
 * it has filled it. It takes away facets that hang on nothing and then has none: single triangles are not shown to it.
 * How many triangles cross is compared with CGAL (cgal.test.ts): admesh does not look.
 */

const require = createRequire(import.meta.url);
const folder = dirname(require.resolve('stl-models/package.json'));
const MM = 0.001;

const outcomeOf = (name: string, unitFactor: number): MeshOutcome => readMesh(join(folder, name), { unitFactor });
function modelOf(name: string, unitFactor: number): ReadMesh {
  const outcome = outcomeOf(name, unitFactor);
  if (!outcome.ok) throw new Error(`${name}: ${outcome.problem.message}`);
  return outcome.read;
}

/** A closed body with its volume, area and moments of inertia about the centroid in closed form. */
interface Body {
  readonly volume: number;
  readonly area: number;
  readonly triangles: number;
  readonly vertices: number;
  /** xx, yy, zz, then -xy, -yz, -zx, as massProperties gives them. */
  readonly inertia: readonly number[];
  readonly centroid: readonly number[];
}
const cube = (a: number, least: number): Body => ({
  volume: a ** 3,
  area: 6 * a ** 2,
  triangles: 12,
  vertices: 8,
  inertia: [...Array<number>(3).fill(a ** 5 / 6), 0, 0, 0],
  centroid: Array<number>(3).fill(least + a / 2),
});
/** The corner of a box, cut off by a plane through a, b, c on its edges. Closed forms, own integrals over the simplex. */
const corner = (a: number, b: number, c: number): Body => {
  const volume = (a * b * c) / 6;
  const [square, product] = [(3 * volume) / 80, volume / 80];
  return {
    volume,
    area: (a * b + b * c + c * a + Math.hypot(a * b, b * c, c * a)) / 2,
    triangles: 4,
    vertices: 4,
    inertia: [
      ...[b * b + c * c, a * a + c * c, a * a + b * b].map((sum) => square * sum),
      ...[a * b, b * c, c * a].map((sides) => product * sides),
    ],
    centroid: [a / 4, b / 4, c / 4],
  };
};

/** Polytopes and what else is one in spite of what is odd about the file, with metres in a unit. */
const bodies: readonly (readonly [name: string, unit: number, Body])[] = [
  ['polytopes/cube.ascii.stl', 1, cube(2, -1)],
  ['polytopes/cube.bin.stl', 1, cube(2, -1)],
  ['polytopes/cubeLarge.ascii.stl', MM, cube(0.1, 0)],
  ['polytopes/unitCube.ascii.stl', 1, cube(1, 0)],
  ['polytopes/unitCube.binary.stl', 1, cube(1, 0)],
  ['polytopes/tetrahedron.ascii.stl', 1, corner(1, 1, 1)],
  ['polytopes/tetrahedron.bin.stl', 1, corner(1, 1, 1)],
  ['polytopes/tetrahedron.min.ascii.stl', 1, corner(1, 1, 1)],
  ['polytopes/tetrahedronIrregular.ascii.stl', 1, corner(3, 2, 1)],
  ['polytopes/tetrahedronIrregular.bin.stl', 1, corner(3, 2, 1)],
  // Some zeros are minus zero: the same place.
  ['polytopes/tetrahedronMinusZero.bin.stl', 1, corner(1, 1, 1)],
  ['misc/multiWordName.ascii.stl', 1, corner(1, 1, 1)],
  ['misc/namelessSolid.ascii.stl', 1, corner(1, 1, 1)],
  ['broken/solidNameMismatch.ascii.stl', 1, corner(1, 1, 1)],
  // Begins with "solid" and is binary all the same.
  ['broken/wrongHeader.bin.stl', MM, cube(0.1, -0.05)],
  // Stated normals are not used, wrong or missing: a triangle looks where its corners run round.
  ['broken/wrongNormal.ascii.stl', 1, corner(1, 1, 1)],
  ['broken/wrongNormals.ascii.stl', 1, corner(1, 1, 1)],
  ['broken/missingNormal.ascii.stl', 1, corner(1, 1, 1)],
  ['broken/notANumberNormal.ascii.stl', 1, corner(1, 1, 1)],
];

/** Open on purpose: the report says so. */
const open: readonly (readonly [name: string, { triangles: number; openEdges: number; area: number }])[] = [
  ['broken/missingFace.ascii.stl', { triangles: 3, openEdges: 3, area: 1.5 }],
  ['broken/singleFace.ascii.stl', { triangles: 1, openEdges: 3, area: 0.5 }],
  ['polytopes/triangle.ascii.stl', { triangles: 1, openEdges: 3, area: 0.5 }],
  ['polytopes/triangle.bin.stl', { triangles: 1, openEdges: 3, area: 0.5 }],
];

/** No mesh can be had from these without guessing: refused, in words that say what was expected and what came. */
const refused: readonly (readonly [name: string, code: string, message: string])[] = [
  ['broken/empty.stl', 'empty', 'Expected a mesh, got a file of 0 bytes.'],
  ['broken/fourVertices.ascii.stl', 'malformed', 'Expected "vertex x y z", three in a facet; line 7 is not that.'],
  ['broken/quad.ascii.stl', 'malformed', 'Expected "vertex x y z", three in a facet; line 7 is not that.'],
  ['broken/twoVertices.ascii.stl', 'malformed', 'Expected 3 vertices before line 6, found 2.'],
  [
    'broken/incorrectFaceCounter.bin.stl',
    'truncated',
    'The header promises 66 triangles = 3,384 bytes, the file has 284. Upload it again, or export it again.',
  ],
  [
    'broken/missingEndsolid.ascii.stl',
    'truncated',
    'Expected "endsolid" at the end, the file ends at line 29 after 4 triangles.',
  ],
  ['misc/faceless.ascii.stl', 'empty', 'Expected a mesh of triangles, the file has 0 triangles.'],
  // Was once saved as text: each byte that is no letter became three.
  [
    'misc/multiWordName.bin.stl',
    'truncated',
    'The header promises 4 triangles = 284 bytes, the file has 333. Upload it again, or export it again.',
  ],
];

/** What a report of a closed body that is right says. */
const SOUND = {
  openEdges: 0,
  nonManifoldEdges: 0,
  flippedEdges: 0,
  selfIntersections: 0,
  selfIntersectionsComplete: true,
  degenerate: 0,
  duplicate: 0,
  holes: 0,
};

/** Larger ones, in both encodings, with metres in a unit. */
const objects = [
  ['objects/gearwheel', MM],
  ['objects/bunny', 1],
] as const;

describe('npm stl-models: closed forms', () => {
  it.each(bodies)('%s', (name, unit, body) => {
    const { mesh, format } = modelOf(name, unit);
    expect(format).toBe(name.includes('.ascii.') ? 'stl-ascii' : 'stl-binary');
    expect([triangleCount(mesh), vertexCount(mesh)]).toEqual([body.triangles, body.vertices]);
    const { shells, ...report } = meshReport(mesh);
    expect(report).toMatchObject({ ...SOUND, at: null });
    expect(shells).toHaveLength(1);
    const { volume, area, centroid, inertia } = massProperties(mesh);
    expect(apart([volume, area], [body.volume, body.area])).toBeLessThan(1e-14);
    expect(apart([report.volume, report.area], [volume, area])).toBeLessThan(1e-14);
    const off = (ours: readonly number[], theirs: readonly number[]): number =>
      Math.max(...ours.map((x, i) => Math.abs(x - (theirs[i] ?? Number.NaN))));
    expect(off(centroid, body.centroid)).toBeLessThan(1e-15);
    expect(off(inertia, body.inertia) / Math.max(...body.inertia)).toBeLessThan(1e-14);
  });

  it.each(open)('%s is read, and the report says that it is open', (name, { triangles, openEdges, area }) => {
    const { mesh } = modelOf(name, 1);
    expect(triangleCount(mesh)).toBe(triangles);
    const { shells, ...report } = meshReport(mesh);
    expect(report).toMatchObject({ ...SOUND, openEdges, holes: 1, at: expect.any(Array) });
    expect(shells).toHaveLength(1);
    expect(apart(report.area, area)).toBeLessThan(1e-15);
  });

  it.each(refused)('%s is refused', (name, code, message) => {
    expect(outcomeOf(name, 1)).toEqual({ ok: false, problem: { code, message } });
  });

  it('every file of the package is in a table here', () => {
    const here = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.stl'));
    const larger = objects.flatMap(([name]) => [`${name}.ascii.stl`, `${name}.bin.stl`]);
    const told = [...bodies, ...open, ...refused].map(([name]) => name);
    expect(here.toSorted()).toEqual([...told, ...larger].toSorted());
  });
});

const models = new Map<string, TriangleMesh>();
function kept(name: string, unit: number): TriangleMesh {
  const mesh = models.get(name) ?? modelOf(name, unit).mesh;
  models.set(name, mesh);
  return mesh;
}

describe('npm stl-models: what was scanned or drawn', () => {
  it.each(objects)('%s: text and binary are the same triangles on the same vertices', (name, unit) => {
    const [text, binary] = [kept(`${name}.ascii.stl`, unit), kept(`${name}.bin.stl`, unit)];
    expect(text.indices).toEqual(binary.indices);
    // The text has seven digits, the binary singles.
    const rounded = text.positions.every((x, i) => {
      const other = binary.positions[i] ?? Number.NaN;
      return Math.abs(x - other) <= (5e-7 + 2 ** -24) * Math.abs(other);
    });
    expect(rounded).toBe(true);
  });

  // Counts of the package's README and of a count of different lines of the text by `sort -u`.
  it('the gearwheel of 40 teeth is closed, of one piece, and has one hole through it', () => {
    const mesh = kept('objects/gearwheel.bin.stl', MM);
    expect([triangleCount(mesh), vertexCount(mesh)]).toEqual([2444, 1222]);
    const { shells, ...report } = meshReport(mesh);
    expect(report).toMatchObject(SOUND);
    expect(shells).toHaveLength(1);
    // Euler characteristic 0: a closed surface of genus 1; every edge has two triangles.
    expect(vertexCount(mesh) - (3 * triangleCount(mesh)) / 2 + triangleCount(mesh)).toBe(0);
  });

  it('the rabbit is one piece with holes in its foot', () => {
    const mesh = kept('objects/bunny.bin.stl', 1);
    expect([triangleCount(mesh), vertexCount(mesh)]).toEqual([69_451, 34_834]);
    const { shells, ...report } = meshReport(mesh);
    expect(report).toMatchObject({ ...SOUND, openEdges: 223, holes: 5 });
    expect(shells).toHaveLength(1);
    // V - E + F = 2 - holes, where a sphere was cut: no handle.
    const edges = (3 * triangleCount(mesh) + 223) / 2;
    expect(vertexCount(mesh) - edges + triangleCount(mesh)).toBe(2 - 5);
  });
});

/** Of volumes: admesh sums singles. */
const SINGLES = 1e-4;
const share = (one: number, other: number): number => Math.abs(one / other - 1);
const farthest = (theirs: readonly number[], ours: readonly number[] = [], unit: number): number =>
  theirs.reduce((most, x, i) => Math.max(most, Math.abs(x * unit - (ours[i] ?? Number.NaN))), 0);

/** Compares what admesh finds in a file with our report of it; lengths of the file in units of so many metres. */
function alike(stl: Uint8Array, mesh: TriangleMesh, unit: number): void {
  const found = admeshReads(stl);
  const report = meshReport(mesh);
  expect(found).toMatchObject({ facets: triangleCount(mesh), degenerate: report.degenerate });
  expect(found).toMatchObject({ parts: report.shells.length, disconnected: facetsAtOpenEdges(mesh) });
  const ours = boxOf(mesh);
  // Printed with six places; singles.
  const largest = Math.max(...(ours ? [...ours.least, ...ours.greatest] : []).map(Math.abs));
  const reach = 1e-6 * unit + 2 ** -23 * largest;
  expect(farthest(found.least, ours?.least, unit)).toBeLessThan(reach);
  expect(farthest(found.greatest, ours?.greatest, unit)).toBeLessThan(reach);
  if (report.openEdges > 0) return;
  expect(found).toMatchObject({ reversed: 0, added: 0 });
  // Printed with six places of a cubic unit.
  const printed = 1e-6 / (report.volume / unit ** 3);
  expect(share(found.volume * unit ** 3, report.volume)).toBeLessThan(SINGLES + printed);
}

describe('against admesh', () => {
  const judged = judgedBy(admesh);
  const bytesOf = (name: string): Uint8Array => readFileSync(join(folder, name));
  const shown: readonly (readonly [string, number])[] = [
    ...bodies.map(([name, unit]) => [name, unit] as const),
    ['broken/missingFace.ascii.stl', 1],
    ...objects.flatMap(([name, unit]) => [[`${name}.ascii.stl`, unit] as const, [`${name}.bin.stl`, unit] as const]),
  ];
  /** It does not read a facet without a normal. */
  const unread = ['broken/missingNormal.ascii.stl'];
  for (const [name, unit] of shown.filter(([one]) => !unread.includes(one))) {
    judged(`${name}: as many facets, parts, open facets, as large, and of the volume when closed`, () => {
      alike(bytesOf(name), kept(name, unit), unit);
    });
  }

  judged('the rabbit with its holes filled by it: closed for both, of one volume', () => {
    const bytes = bytesOf('objects/bunny.bin.stl');
    const [found, filled] = [admeshReads(bytes), read(filledByAdmesh(bytes), { unitFactor: 1 }).mesh];
    const report = meshReport(filled);
    expect(triangleCount(filled)).toBe(found.facets + found.added);
    expect(report).toMatchObject({ openEdges: 0, nonManifoldEdges: 0, flippedEdges: 0, holes: 0 });
    expect(share(found.volume, report.volume)).toBeLessThan(1e-6 / report.volume);
    // A volume of an open mesh has no meaning: this one is off by a fortieth.
    expect(share(meshReport(kept('objects/bunny.bin.stl', 1)).volume, report.volume)).toBeGreaterThan(0.02);
  });

  for (const name of ['broken/singleFace.ascii.stl', 'polytopes/triangle.bin.stl', 'broken/twoVertices.ascii.stl'])
    judged(`${name}: nothing is left for it`, () => {
      expect(() => admeshReads(bytesOf(name))).toThrow(/admesh failed/);
    });
});

describe('npm bunny', () => {
  const { positions, cells } = bunny;
  const text = (lines: readonly string[]): string => `${lines.join('\n')}\n`;
  const obj = text([
    ...positions.map((p) => `v ${p.join(' ')}`),
    ...cells.map((cell) => `f ${cell.map((v) => v + 1).join(' ')}`),
  ]);
  const ply = text([
    'ply',
    'format ascii 1.0',
    `element vertex ${positions.length}`,
    ...['x', 'y', 'z'].map((axis) => `property double ${axis}`),
    `element face ${cells.length}`,
    'property list uchar int vertex_indices',
    'end_header',
    ...positions.map((p) => p.join(' ')),
    ...cells.map((cell) => `3 ${cell.join(' ')}`),
  ]);
  const CM = 0.01;
  const mesh = {
    positions: Float64Array.from(positions.flat(), (x) => x * CM),
    indices: Uint32Array.from(cells.flat()),
  };

  it.each([
    ['obj', obj],
    ['ply', ply],
  ])('as %s it is read number by number', (_, content) => {
    expect(read(content, { unitFactor: CM }).mesh).toEqual(mesh);
  });

  it('is a closed body without a handle, not crossing itself', () => {
    const { shells, ...report } = meshReport(mesh);
    expect(report).toMatchObject(SOUND);
    expect(shells).toHaveLength(1);
    expect(report.volume).toBeGreaterThan(0);
    // Euler characteristic of a sphere.
    expect(vertexCount(mesh) - (3 * triangleCount(mesh)) / 2 + triangleCount(mesh)).toBe(2);
  });

  it.each([
    ['stl', stlBytes],
    ['3mf', threeMfBytes],
    ['ply', plyBytes],
    ['glb', glbBytes],
  ])('written as %s and read again: the same body to singles', (_, bytesOf) => {
    const again = read(bytesOf(mesh), { unitFactor: MM }).mesh;
    expect([triangleCount(again), vertexCount(again)]).toEqual([cells.length, positions.length]);
    const { shells, ...report } = meshReport(again);
    expect(report).toMatchObject(SOUND);
    expect(shells).toHaveLength(1);
    expect(share(report.volume, meshReport(mesh).volume)).toBeLessThan(1e-6);
  });

  judgedBy(admesh)('written as stl: admesh finds as many facets, as large, of its volume', () => {
    alike(stlBytes(mesh), mesh, MM);
  });
});
