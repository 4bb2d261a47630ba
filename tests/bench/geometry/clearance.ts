import { isFault, type ScanKernel, type ScanSurface } from '../../../server/measure/kernels/clearance.ts';
import { builtKernel, openScan } from '../../../server/measure/kernels/clearance-kernel.ts';
import { openRays } from '../../../server/measure/kernels/ray-kernel.ts';
import { inwardRays } from '../../../server/measure/kernels/rays.ts';
import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { joinMeshes, triangleCount } from '../../../shared/geometry/mesh/triangleMesh.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import { bayPoints } from './data/bay.ts';
import { headerParts, primary } from './data/header.ts';
import { cgalDistances, embreeAnswers } from './data/reference.ts';

/*
 * A header against a scanned bay, all seeded: npx tsx tests/bench/geometry/clearance.ts [millions of points, 5]. CPU time of the process, which a
 * busy machine disturbs less than the wall; one thread. The compiled kernel beside Embree and CGAL
 * (Debian: libembree-dev, libcgal-dev, g++) and beside plain TypeScript, on the same points.
 */

const millions = Number(process.argv[2] ?? 5);
const say = (line: string): void => void process.stdout.write(`${line}\n`);

/** Median and least CPU milliseconds over some runs. */
function time(runs: number, work: (run: number) => void): readonly [median: number, least: number] {
  const times = Array.from({ length: runs }, (_, i) => {
    const before = process.cpuUsage();
    work(i);
    const { user, system } = process.cpuUsage(before);
    return (user + system) / 1000;
  }).sort((a, b) => a - b);
  return [times[runs >> 1] ?? 0, times[0] ?? 0];
}

function report(name: string, [median, least]: readonly [number, number], note = ''): number {
  say(
    `${name.padEnd(44)} median ${median.toFixed(1).padStart(8)} ms, least ${least.toFixed(1).padStart(8)} ms  ${note}`,
  );
  return median;
}

function sound<T extends object>(answer: T): Exclude<T, { readonly message: string }> {
  if (isFault(answer)) throw new Error(answer.message);
  return answer as Exclude<T, { readonly message: string }>;
}

const inMetres = ({ positions, indices }: TriangleMesh): TriangleMesh => ({
  // As a sweep in single precision gives them.
  positions: Float64Array.from(Float32Array.from(positions), (x) => x / 1000),
  indices,
});

/** Median time of each question, and the last field. */
interface Answers {
  readonly times: ReadonlyMap<string, number>;
  readonly field: Float32Array;
}

function questions(name: string, kernel: ScanKernel, header: TriangleMesh, runs: number): Answers {
  const got = new Map<string, number>();
  let field: Float32Array = new Float32Array();
  let surface: ScanSurface = sound(kernel.surface(header));
  const take = (what: string, count: number, work: () => string): void => {
    let note = '';
    const spent = time(count, () => {
      note = work();
    });
    got.set(what, report(`${name}: ${what}`, spent, note));
  };
  take('tree', runs, () => {
    kernel.clear();
    surface = sound(kernel.surface(header));
    return '';
  });
  take('smallest distance', runs, () => `${((surface.smallest()?.distance ?? 0) * 1000).toFixed(5)} mm`);
  take(
    'smallest, with 12 mm for a bound',
    runs,
    () => `${((surface.smallest(0.012)?.distance ?? 0) * 1000).toFixed(5)} mm`,
  );
  take('points under 12 mm', runs, () => `${surface.under(0.012).points.length} points`);
  take('field of 60 mm', 3, () => {
    field = surface.field(0.06);
    const within = field.reduce((sum, one) => sum + (one < 0.06 ? 1 : 0), 0);
    return `${((100 * within) / kernel.count).toFixed(1)} % within`;
  });
  return { times: got, field };
}

function edits(kernel: ScanKernel, parts: readonly TriangleMesh[]): void {
  kernel.clear();
  const surfaces = parts.map((part) => sound(kernel.surface(part)));
  const rest = Math.min(...surfaces.filter((_, i) => i !== 3).map((one) => one.smallest()?.distance ?? 1));
  const tube = surfaces[3];
  if (!tube) return;
  const swept = Array.from({ length: 30 }, (_, s) => {
    const by: Vec3 = [2 * Math.sin(s * 0.7), 2 * Math.cos(s * 0.9), 1.5 * Math.sin(s * 0.4)];
    return inMetres(primary(3, { tube: 3, by }));
  });
  const verdict = (): number => Math.min(rest, tube.smallest()?.distance ?? 1);
  const at = (i: number): TriangleMesh =>
    swept[i % swept.length] ?? { positions: new Float64Array(), indices: new Uint32Array() };
  report(
    'one tube moved: new tree and verdict',
    time(30, (i) => {
      tube.replace(at(i));
      verdict();
    }),
  );
  tube.replace(at(0));
  const same = swept.filter((mesh) => mesh.positions.length === at(0).positions.length);
  report(
    'one tube moved: boxes refitted and verdict',
    time(30, (i) => {
      tube.move(same[i % same.length]?.positions ?? at(0).positions);
      verdict();
    }),
    `${same.length} shapes of ${tube.triangles} triangles`,
  );
}

const parts = headerParts().map(inMetres);
const header = joinMeshes(parts);
const points = bayPoints(millions * 1e6, 42);
say(`${triangleCount(header)} triangles, ${points.length / 3} points, Node ${process.version}, CPU time`);
let taken: ScanKernel | undefined;
const spent = time(1, () => {
  taken = sound(openScan(points, builtKernel, 0));
});
report('taking in the scan, once', spent);
const simd = taken;
if (simd?.kind !== 'simd') throw new Error('the kernels are not compiled: npm run build');
const fast = questions('simd', simd, header, 7);
edits(simd, parts);
const rays = sound(
  openRays(header, builtKernel, 0) ?? {
    kind: 'index' as const,
    message: 'the kernels are not compiled: npm run build',
  },
);
const walls = inwardRays(header);
let across = 0;
const casting = time(7, () => {
  across = rays.cast(walls, 0.01).distances.reduce((sum, d) => sum + (Number.isFinite(d) ? 1000 * d : 0), 0);
});
const thickness = 'wall thickness, rays';
const times = new Map([
  ...fast.times,
  [thickness, report(`simd: ${thickness}`, casting, `${across.toFixed(1)} mm in all`)],
]);
for (const [library, answers] of [
  ['Embree', embreeAnswers(header, points)],
  ['CGAL', cgalDistances(header, points)],
] as const) {
  if (!answers) say(`SKIPPED: ${library} is not installed: no native reference`);
  for (const { name, time: spent, found } of answers ?? []) {
    const ours = times.get(name) ?? Number.NaN;
    say(
      `${library}: ${name} ${spent.toFixed(1)} ms (${found.toFixed(5)}); ${library} / simd = ${(spent / ours).toFixed(1)}`,
    );
  }
}
const slow = questions('plain', sound(openScan(points, () => undefined)), header, 1);
for (const [what, least] of fast.times)
  say(`${what}: plain / simd = ${((slow.times.get(what) ?? 0) / least).toFixed(1)}`);
const apart = fast.field.reduce((most, one, i) => Math.max(most, Math.abs(one - (slow.field[i] ?? Number.NaN))), 0);
say(`greatest difference of the two fields ${(apart * 1e6).toFixed(3)} um`);
