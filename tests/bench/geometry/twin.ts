import { finitePoints } from '../../../server/measure/kernels/clearance.ts';
import { builtKernel } from '../../../server/measure/kernels/clearance-kernel.ts';
import { KernelMemory } from '../../../server/measure/kernels/kernel-memory.ts';
import { type ResidentPoints, ROOM, RUN, residentPoints } from '../../../server/measure/kernels/resident-points.ts';
import { SimdSurface } from '../../../server/measure/kernels/simd-surface.ts';
import { joinMeshes, type TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { bayPoints } from './data/bay.ts';
import { headerParts } from './data/header.ts';
import { nativeTwin, type TwinAnswer } from './data/nativeTwin.ts';

/*
 * The kernels as WebAssembly beside the same source compiled natively (g++, SSE4.1), on one memory image: npm run bench -- geometry/twin
 * [millions of points, 5]. CPU time of the process, least of two hundred runs or seven; one thread.
 */

const CAP = 60;
const SHARE = 32;
const millions = Number(process.argv[2] ?? 5);
const say = (line: string): void => void process.stdout.write(`${line}\n`);

const inMetres = ({ positions, indices }: TriangleMesh): TriangleMesh => ({
  positions: Float64Array.from(Float32Array.from(positions), (x) => x / 1000),
  indices,
});

function least(name: string, runs: number, work: () => void, found: () => number): TwinAnswer {
  let time = Number.POSITIVE_INFINITY;
  for (let run = 0; run < runs; run++) {
    const before = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(before);
    time = Math.min(time, (user + system) / 1000);
  }
  return { name, time, found: found() };
}

interface Asked {
  readonly memory: KernelMemory;
  readonly surface: SimdSurface;
  readonly resident: ResidentPoints;
}

/** As the twin asks: the kernel only, nothing around it. */
function compiled({ memory, surface, resident }: Asked): readonly TwinAnswer[] {
  const { run } = memory;
  const { x, y, z, count, levels, levelCount, pairs, distances } = resident;
  const { nodes, triangles } = surface.places;
  run.takePoints(x, y, z, count, RUN, levels);
  const within = (): number => memory.singles(distances, count).reduce((sum, one) => sum + (one < CAP ? 1 : 0), 0);
  return [
    least(
      'smallest distance',
      200,
      () => run.nearestPairs(nodes, triangles, levelCount, 1e15, 2000 * surface.accuracy, pairs, ROOM),
      () => run.leastDistance(),
    ),
    least(
      'field of 60 mm',
      7,
      () => {
        run.takeField(nodes, triangles, x, y, z);
        run.fieldOf(0, count, SHARE, CAP, distances);
      },
      () => (100 * within()) / count,
    ),
  ];
}

const module = builtKernel();
if (!module) throw new Error('the kernels are not compiled: npm run build');
const points = bayPoints(millions * 1e6, 42);
const memory = new KernelMemory(module);
const resident = residentPoints(memory, points, finitePoints(points));
const surface = new SimdSurface({ memory, points, resident }, joinMeshes(headerParts().map(inMetres)));
const { x, y, z, levels, distances, pairs, count, levelCount } = resident;
const { nodes, triangles } = surface.places;
say(`${surface.triangles} triangles, ${count} points, Node ${process.version}, CPU time`);
// Taken before anything is asked: the answers stand in the same memory.
const bytes = new Uint8Array(memory.whole(0, memory.mark() / 4).slice().buffer);
const answers = compiled({ memory, surface, resident });
const twin = nativeTwin({
  bytes,
  places: [nodes, triangles, x, y, z, levels, distances, pairs, count, levelCount],
  slack: 2000 * surface.accuracy,
});
if (typeof twin === 'string') say(`SKIPPED: the same source compiled natively: ${twin}`);
else
  for (const { name, time, found } of answers) {
    const native = twin.find((one) => one.name === name);
    if (!native || Math.abs(native.found - found) > 1e-4) throw new Error(`${name}: ${found}, native ${native?.found}`);
    const ratio = (time / native.time).toFixed(2);
    say(
      `${name}: WebAssembly ${time.toFixed(2)} ms, native ${native.time.toFixed(2)} ms = ${ratio} x (${found.toFixed(5)})`,
    );
  }
