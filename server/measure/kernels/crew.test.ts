import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../shared/geometry/random.ts';
import { bentTube } from './brute.fixture.ts';
import { finitePoints, isFault, type ScanKernel } from './clearance.ts';
import { builtKernel, openScan } from './clearance-kernel.ts';
import { KernelMemory } from './kernel-memory.ts';
import { openRays } from './ray-kernel.ts';
import { inwardRays } from './rays.ts';
import { residentPoints } from './resident-points.ts';

const random = seededRandom(23);
/** Enough that points are cut into several ranges, and distances into several parts. */
const points = Float32Array.from({ length: 3 * 200_000 }, () => 0.4 * random() - 0.2);
const mesh = bentTube(0.02, [0, 0, 0]);

function open(helpers: number): ScanKernel {
  const kernel = openScan(points, builtKernel, helpers);
  if (isFault(kernel)) throw new Error(kernel.message);
  expect(kernel.kind).toBe('simd');
  return kernel;
}

/** Counted here: to compare lists of this length element by element takes the test runner seconds. */
function differing(some: ArrayLike<number>, others: ArrayLike<number>): number {
  let count = Math.abs(some.length - others.length);
  for (let i = 0; i < some.length; i++) if (!Object.is(some[i], others[i])) count++;
  return count;
}

function field(kernel: ScanKernel): Float32Array {
  const surface = kernel.surface(mesh);
  if (isFault(surface)) throw new Error(surface.message);
  return surface.field(0.02);
}

describe('threads that help', () => {
  it('a scan is put in the same order by several as by one', () => {
    const module = builtKernel();
    if (!module) throw new Error('the kernels are not compiled');
    const [alone, helped] = [0, 3].map((helpers) => {
      const memory = new KernelMemory(module, helpers);
      const { numbers, count } = residentPoints(memory, points, finitePoints(points));
      return memory.whole(numbers, count).slice();
    });
    expect(differing(helped ?? [], alone ?? [])).toBe(0);
    const sorted = alone?.slice().sort() ?? [];
    expect(
      differing(
        sorted,
        Array.from({ length: 200_000 }, (_, i) => i),
      ),
    ).toBe(0);
  });

  it('distances of all points are the same, whether they come before, during or after the start of the threads', () => {
    const alone = field(open(0));
    const kernel = open(3);
    for (let turn = 0; turn < 4; turn++) expect(differing(field(kernel), alone)).toBe(0);
    expect(alone.filter((one) => one < 0.02).length).toBeGreaterThan(400);
  });

  it('come, and take parts', () => {
    const module = builtKernel();
    if (!module) throw new Error('the kernels are not compiled');
    const memory = new KernelMemory(module, 2);
    const count = 1 << 16;
    const ranges = memory.allocate(8 * count);
    const parts = memory.allocate(16 * count);
    const column = memory.allocate(4 * count);
    memory.whole(ranges, 2 * count).set(Uint32Array.from({ length: 2 * count }, (_, i) => Math.ceil(i / 2)));
    const ask = (): number =>
      memory.share({
        before: ['takeOrder', column, column, column, column],
        each: ['cutRanges', ranges, 'from', 'to', parts],
        total: count,
        part: 64,
      });
    // Asked until they have started.
    let helped = 0;
    for (let turn = 0; helped === 0 && turn < 50_000; turn++) {
      memory.whole(parts, 4 * count).fill(7);
      helped = ask();
    }
    expect(helped).toBeGreaterThan(0);
    const cut = Uint32Array.from({ length: 4 * count }, (_, i) => Math.floor(i / 4) + (i % 4 === 0 ? 0 : 1));
    expect(differing(memory.whole(parts, 4 * count), cut)).toBe(0);
  });

  it('rays and balls are the same', () => {
    const rays = inwardRays(mesh);
    const many = {
      places: repeated(rays.places),
      directions: repeated(rays.directions),
      own: Uint32Array.from(repeated(Float64Array.from(rays.own))),
    };
    const asked = [0, 3].map((helpers) => {
      const kernel = openRays(mesh, builtKernel, helpers);
      if (!kernel || isFault(kernel)) throw new Error('the kernels are not compiled');
      const hits = kernel.cast(many, 0.05);
      return {
        hits,
        touches: kernel.shrink(
          many,
          hits.distances.map((seen) => Math.min(seen, 0.05) / 2),
        ),
      };
    });
    expect(many.own.length).toBeGreaterThan(20_000);
    expect(asked[1]).toEqual(asked[0]);
  });
});

/** A list over and over, until there are several parts of it. */
function repeated(list: Float64Array): Float64Array {
  const times = Math.ceil(25_000 / (mesh.indices.length / 3));
  const all = new Float64Array(times * list.length);
  for (let i = 0; i < times; i++) all.set(list, i * list.length);
  return all;
}
