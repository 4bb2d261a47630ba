import { describe, expect, it, vi } from 'vitest';
import { moved } from '../../../shared/geometry/mesh/shapes.fixture.ts';
import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { joinMeshes } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { seededRandom } from '../../../shared/geometry/random.ts';
import {
  bentTube,
  bruteDistances,
  looseTriangles,
  type MeshKind,
  meshKinds,
  scatter,
  slivers,
  snapped,
} from './brute.fixture.ts';
import type { Coordinates, ScanKernel, ScanSurface } from './clearance.ts';
import { isFault } from './clearance.ts';
import { builtKernel, openScan, vectorModule } from './clearance-kernel.ts';
import { fullFault, KernelFull, KernelMemory } from './kernel-memory.ts';

/** Micrometres are 1e-6: this is a hundredth of a nanometre over what doubles hold of a metre. */
const EXACT = 1e-11;
const HUNDREDTH_MICROMETRE = 1e-8;

const without = () => undefined;
const kinds = ['simd', 'plain'] as const;
type Kind = (typeof kinds)[number];

function open(kind: Kind, points: Coordinates): ScanKernel {
  const kernel = openScan(points, kind === 'simd' ? builtKernel : without);
  if (isFault(kernel)) throw new Error(kernel.message);
  expect(kernel.kind).toBe(kind);
  return kernel;
}

function take(kernel: ScanKernel, mesh: TriangleMesh): ScanSurface {
  const surface = kernel.surface(mesh);
  if (isFault(surface)) throw new Error(surface.message);
  return surface;
}

const worst = (a: ArrayLike<number>, b: ArrayLike<number>): number =>
  Array.from(a).reduce((most, value, i) => Math.max(most, Math.abs(value - (b[i] ?? Number.NaN))), 0);

describe.each(kinds)('the %s kernel against all pairs in double precision', (kind) => {
  it.each(meshKinds.flatMap((mesh) => [1, 2, 3].map((seed): [MeshKind, number] => [mesh, seed])))(
    'gives every distance: %s, seed %i',
    (meshKind, seed) => {
      const random = seededRandom(seed);
      const mesh = snapped(looseTriangles(meshKind, 150 + 10 * seed, random));
      const points = scatter(403, random);
      const surface = take(open(kind, points), mesh);
      const brute = bruteDistances(points, mesh);
      const capped = brute.map((one) => Math.min(one, 0.06));
      expect(worst(surface.field(0.06), capped)).toBeLessThan(HUNDREDTH_MICROMETRE);
      expect(worst(surface.field(10), brute)).toBeLessThan(2 * HUNDREDTH_MICROMETRE);
      const within = (one: number): boolean => one < 0.06;
      expect(surface.field(0.06).filter(within).length).toBe(brute.filter(within).length);
      const least = Math.min(...brute);
      expect(Math.abs((surface.smallest()?.distance ?? Number.NaN) - least)).toBeLessThan(EXACT);
    },
  );

  it('is as near on slivers, over them, beside them and beyond their ends', () => {
    const random = seededRandom(3);
    const { mesh, points } = slivers(120, random);
    const surface = take(open(kind, points), mesh);
    const brute = bruteDistances(points, mesh);
    expect(worst(surface.field(0.5), brute)).toBeLessThan(2 * HUNDREDTH_MICROMETRE);
    expect(Math.abs((surface.smallest()?.distance ?? Number.NaN) - Math.min(...brute))).toBeLessThan(EXACT);
  });

  it('gives the place the distance is measured to, and the pair it belongs to', () => {
    const random = seededRandom(5);
    const mesh = looseTriangles('mixed', 300, random);
    const points = scatter(500, random);
    const found = take(open(kind, points), mesh).smallest();
    if (!found) throw new Error('nothing found');
    const at = points.subarray(3 * found.point, 3 * found.point + 3);
    const away = Math.hypot(...found.place.map((x, axis) => x - (at[axis] ?? 0)));
    expect(Math.abs(away - found.distance)).toBeLessThan(EXACT);
    const alone = {
      positions: mesh.positions,
      indices: mesh.indices.slice(3 * found.triangle, 3 * found.triangle + 3),
    };
    expect(Math.abs((bruteDistances(at, alone)[0] ?? Number.NaN) - found.distance)).toBeLessThan(EXACT);
  });

  it('is exact where single precision is not: a metre and more from the zero of the file', () => {
    const random = seededRandom(8);
    const mesh = moved(looseTriangles('large', 200, random), [900, -400, 70]);
    const points = scatter(700, random).map((x, i) => x + ([900, -400, 70][i % 3] ?? 0));
    const brute = bruteDistances(points, mesh);
    const found = take(open(kind, points), mesh).smallest();
    expect(Math.abs((found?.distance ?? Number.NaN) - Math.min(...brute))).toBeLessThan(EXACT);
    expect(found?.point).toBe(brute.indexOf(Math.min(...brute)));
  });

  it('lists exactly the points under a limit, also those a nanometre to either side', () => {
    const random = seededRandom(13);
    const mesh = looseTriangles('mixed', 200, random);
    const points = scatter(600, random);
    const brute = bruteDistances(points, mesh);
    const surface = take(open(kind, points), mesh);
    const sorted = Float64Array.from(brute).sort();
    for (const rank of [0, 7, 100, 300]) {
      for (const limit of [(sorted[rank] ?? 0) - 1e-9, (sorted[rank] ?? 0) + 1e-9]) {
        const expected = Array.from(brute.keys()).filter((i) => (brute[i] ?? 0) < limit);
        const { points: got, distances } = surface.under(limit);
        expect(Array.from(got).sort((a, b) => a - b)).toEqual(expected);
        got.forEach((point, i) => {
          expect(Math.abs((distances[i] ?? Number.NaN) - (brute[point] ?? 0))).toBeLessThan(surface.accuracy + 1e-8);
        });
      }
    }
  });

  it('finds nothing where nothing is nearer than asked', () => {
    const mesh = looseTriangles('small', 50, seededRandom(21));
    const points = scatter(100, seededRandom(22));
    const surface = take(open(kind, points), mesh);
    const least = surface.smallest()?.distance ?? 0;
    expect(least).toBeGreaterThan(0);
    expect(surface.smallest(least * (1 - 1e-9))).toBeUndefined();
    expect(surface.smallest(least * (1 + 1e-9))?.distance).toBe(least);
    expect(surface.under(least)).toMatchObject({ points: new Uint32Array() });
    expect(surface.smallest(0)).toBeUndefined();
  });

  it('bears a scan without points and a mesh without triangles', () => {
    const mesh = looseTriangles('small', 10, seededRandom(1));
    const nothing = { positions: new Float64Array(), indices: new Uint32Array() };
    expect(take(open(kind, new Float64Array()), mesh).smallest()).toBeUndefined();
    const surface = take(open(kind, scatter(20, seededRandom(2))), nothing);
    expect(surface.smallest()).toBeUndefined();
    expect(Array.from(surface.field(0.5))).toEqual(new Array(20).fill(0.5));
    expect(surface.under(1).points.length).toBe(0);
    expect(surface.replace(mesh)).toBeUndefined();
    expect(surface.smallest()?.distance).toBeGreaterThan(0);
    expect(new Set(surface.field(0))).toEqual(new Set([0]));
    expect(surface.under(Number.POSITIVE_INFINITY).points.length).toBe(20);
    expect(surface.under(Number.NaN).points.length).toBe(0);
  });

  it('leaves out points that are not finite and says how many', () => {
    const random = seededRandom(31);
    const mesh = looseTriangles('mixed', 60, random);
    const points = scatter(90, random);
    const clean = bruteDistances(points, mesh);
    points[3 * 4] = Number.NaN;
    points[3 * 50 + 2] = Number.POSITIVE_INFINITY;
    const kernel = open(kind, points);
    expect(kernel).toMatchObject({ count: 90, notFinite: 2 });
    const field = take(kernel, mesh).field(10);
    expect([field[4], field[50]]).toEqual([Number.NaN, Number.NaN]);
    expect(Math.abs((field[49] ?? Number.NaN) - (clean[49] ?? 0))).toBeLessThan(1e-7);
  });

  it('says what is wrong with a mesh or a scan and keeps what it had', () => {
    expect(openScan(new Float64Array(4), kind === 'simd' ? builtKernel : without)).toMatchObject({ kind: 'ragged' });
    const kernel = open(kind, scatter(30, seededRandom(3)));
    const positions = Float64Array.from([0, 0, 0, 1, 0, 0, 0, 1, 0]);
    expect(kernel.surface({ positions, indices: Uint32Array.of(0, 1, 3) })).toMatchObject({ kind: 'index' });
    const surface = take(kernel, { positions, indices: Uint32Array.of(0, 1, 2) });
    const before = surface.smallest();
    expect(surface.move(positions.map((x, i) => (i === 5 ? Number.NaN : x)))).toMatchObject({ kind: 'not-finite' });
    expect(surface.smallest()).toEqual(before);
  });
});

describe('edits', () => {
  it.each(kinds)(
    '%s: every distance after a move is that of all pairs, the boxes of leaves having gone along',
    (kind) => {
      const random = seededRandom(78);
      const points = scatter(1_500, random);
      const [from, to] = [0.2, 1.1].map((bend) => snapped(bentTube(bend, [-0.05, 0.02, 0])));
      if (!from || !to) throw new Error('no tubes');
      const surface = take(open(kind, points), from);
      expect(surface.move(to.positions)).toBeUndefined();
      expect(worst(surface.field(10), bruteDistances(points, to))).toBeLessThan(2 * HUNDREDTH_MICROMETRE);
    },
  );

  it.each(kinds)('%s: moved, rebuilt, put in place and whole agree on 25 seeded edits', (kind) => {
    const random = seededRandom(77);
    const points = scatter(2_000, random);
    const kernel = open(kind, points);
    const tube = (bend: number, x: number) => bentTube(bend, [x, 0, 0]);
    const others = [0, 0.05, 0.1].map((x) => tube(0.2, x));
    const [parts, edited] = [others.map((mesh) => take(kernel, mesh)), take(kernel, tube(0.2, -0.05))];
    for (let edit = 0; edit < 25; edit++) {
      const mesh = tube(0.05 + 0.5 * random(), -0.05 - 0.03 * random());
      const fresh = take(kernel, mesh).smallest()?.distance ?? Number.NaN;
      expect(edited.move(mesh.positions)).toBeUndefined();
      const refitted = edited.smallest()?.distance;
      expect(edited.replace(mesh)).toBeUndefined();
      const incremental = Math.min(...[edited, ...parts].map((part) => part.smallest()?.distance ?? Number.NaN));
      const whole = take(open(kind, points), joinMeshes([...others, mesh])).smallest()?.distance ?? Number.NaN;
      expect(refitted).toBeCloseTo(fresh, 11);
      expect(edited.smallest()?.distance).toBeCloseTo(fresh, 11);
      expect(incremental).toBeCloseTo(whole, 11);
    }
  });
});

describe('both kernels', () => {
  it('give the same points and places', () => {
    const random = seededRandom(41);
    const mesh = looseTriangles('mixed', 400, random);
    const points = Float32Array.from(scatter(3_000, random));
    const [simd, plain] = kinds.map((kind) => take(open(kind, points), mesh));
    if (!simd || !plain) throw new Error('no kernels');
    expect(simd.smallest()?.point).toBe(plain.smallest()?.point);
    expect(worst(simd.smallest()?.place ?? [], plain.smallest()?.place ?? [])).toBeLessThan(EXACT);
    expect(Array.from(simd.under(0.02).points).sort()).toEqual(Array.from(plain.under(0.02).points).sort());
    expect(worst(simd.field(0.06), plain.field(0.06))).toBeLessThan(1e-7);
  });

  it('choose plain TypeScript where threads cannot share memory', () => {
    const module = Uint8Array.of(0, 97, 115, 109, 1, 0, 0, 0);
    expect(vectorModule(module)).toBeInstanceOf(WebAssembly.Module);
    vi.stubGlobal('SharedArrayBuffer', undefined);
    expect(vectorModule(module)).toBeUndefined();
    vi.unstubAllGlobals();
  });

  it('choose plain TypeScript where the module does not pass', () => {
    expect(vectorModule(Uint8Array.of(0, 97, 115, 109, 9, 9, 9, 9))).toBeUndefined();
    expect(builtKernel()).toBeInstanceOf(WebAssembly.Module);
  });

  it('find one among many that are level with it', () => {
    const positions = Float64Array.from([-1, -1, 0, 1, -1, 0, 0, 1, 0]);
    const mesh = { positions, indices: Uint32Array.of(0, 1, 2) };
    const points = Float64Array.from({ length: 3 * 20_000 }, (_, i) => (i % 3 === 2 ? 0.125 : 0.1 * Math.sin(i)));
    for (const kind of kinds) {
      const surface = take(open(kind, points), mesh);
      expect(surface.smallest()).toMatchObject({ distance: 0.125, point: 0, triangle: 0 });
      expect(surface.under(0.125).points.length).toBe(0);
      expect(surface.under(0.125 + 1e-9).points.length).toBe(20_000);
      expect(surface.under(0.13).points.length).toBe(20_000);
    }
  });

  it('give memory back', () => {
    const kernel = open('simd', scatter(100, seededRandom(51)));
    const mesh = looseTriangles('mixed', 100, seededRandom(52));
    const first = take(kernel, mesh).smallest();
    kernel.clear();
    expect(take(kernel, mesh).smallest()).toEqual(first);
  });

  it('say so when the memory a kernel can address is used up, and go on with what they have', () => {
    const module = builtKernel();
    if (!module) throw new Error('no kernel');
    const memory = new KernelMemory(module);
    const at = memory.mark();
    expect(() => memory.allocate(5e9)).toThrow(KernelFull);
    expect(memory.allocateIfRoom(2 ** 32)).toBeUndefined();
    expect(memory.allocate(64)).toBe(at);
    expect(fullFault(new KernelFull('no 5 bytes left'))).toMatchObject({ kind: 'too-large' });
    expect(() => fullFault(new TypeError('something else'))).toThrow(TypeError);
  });
});
