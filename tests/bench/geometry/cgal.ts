import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { meshReport } from '../../../shared/geometry/mesh/meshReport.ts';
import { crossingPairs } from '../../../shared/geometry/mesh/selfIntersection.ts';
import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { joinMeshes, triangleCount, vertexAt } from '../../../shared/geometry/mesh/triangleMesh.ts';
import type { CgalAnswer } from './data/cgal.ts';
import { cgalAnswers, cgalProgram } from './data/cgal.ts';
import { headerParts } from './data/header.ts';

/*
 * The mesh report against CGAL on the public meshes that come with it, never copied here (Debian: g++, libcgal-dev), and on a made header:
 * npm run bench -- geometry/cgal [folder of more .off, .ply, .stl files]. Says for how many meshes closedness, area, volume, pairs of
 * triangles that intersect and triangles without area are equal, and how our CPU time compares, boxes included on both sides.
 * Fails when one differs.
 */

const DATA = '/usr/share/doc/libcgal-dev/data.tar.gz';
/** Rounding of sums over some hundred thousand triangles, as a share. */
const ROUNDING = 1e-9;
const say = (line: string): void => void process.stdout.write(`${line}\n`);

/** Least CPU milliseconds over some runs. */
function least(runs: number, work: () => void): number {
  let best = Number.POSITIVE_INFINITY;
  for (let run = 0; run < runs; run++) {
    const before = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(before);
    best = Math.min(best, (user + system) / 1000);
  }
  return best;
}

const near = (a: number, b: number, of: number): boolean => Math.abs(a - b) <= ROUNDING * Math.max(of, Math.abs(b));

/** Volume that rounding is a share of: that of the box around zero, for a mesh far from it is a difference of large volumes. */
const reachOf = ({ positions }: TriangleMesh): number =>
  8 * positions.reduce((r, x) => Math.max(r, Math.abs(x)), 0) ** 3;

/** What differs from CGAL, each in words. */
function differences(theirs: CgalAnswer): readonly string[] {
  const ours = meshReport(theirs.mesh);
  const closed = ours.openEdges + ours.nonManifoldEdges + ours.flippedEdges === 0;
  const numbers = [
    ['pairs', ours.selfIntersections, theirs.pairs],
    ['without area', ours.degenerate, theirs.degenerate],
    ['closed', Number(closed), Number(theirs.closed)],
  ] as const;
  const volumes = !theirs.closed || near(ours.volume, theirs.volume, reachOf(theirs.mesh));
  return [
    ...numbers.filter(([, a, b]) => a !== b).map(([what, a, b]) => `${what} ${a}, CGAL ${b}`),
    ...(near(ours.area, theirs.area, 0) ? [] : [`area ${ours.area}, CGAL ${theirs.area}`]),
    ...(volumes ? [] : [`volume ${ours.volume}, CGAL ${theirs.volume}`]),
  ];
}

/** The made header as text with all digits. */
function headerFile(folder: string): string {
  const path = join(folder, 'made header.off');
  const header = joinMeshes(headerParts());
  const lines = [`OFF\n${header.positions.length / 3} ${triangleCount(header)} 0`];
  for (let v = 0; v < header.positions.length / 3; v++) lines.push(vertexAt(header, v).join(' '));
  for (let o = 0; o < header.indices.length; o += 3) lines.push(`3 ${header.indices.subarray(o, o + 3).join(' ')}`);
  writeFileSync(path, `${lines.join('\n')}\n`);
  return path;
}

function meshFiles(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.(off|ply|stl)$/.test(name))
    .sort()
    .map((name) => join(folder, name));
}

function compare(folder: string, more: string | undefined): void {
  const program = cgalProgram(folder);
  if (!program || !existsSync(DATA)) {
    say('SKIPPED: no CGAL here (Debian: apt-get install g++ libcgal-dev)');
    return;
  }
  spawnSync('tar', ['xzf', DATA, '-C', folder]);
  const files = [...meshFiles(join(folder, 'data')), ...(more ? meshFiles(more) : []), headerFile(folder)];
  const answers = cgalAnswers(program, folder, files);
  const why = new Map<string, number>();
  let [equal, unequal, triangles, pairs] = [0, 0, 0, 0];
  const large: { readonly name: string; readonly theirs: CgalAnswer }[] = [];
  for (const [i, theirs] of answers.entries()) {
    if (typeof theirs === 'string') {
      why.set(theirs, (why.get(theirs) ?? 0) + 1);
      continue;
    }
    const name = basename(files[i] ?? '');
    const found = differences(theirs);
    if (found.length > 0) say(`UNEQUAL ${name}: ${found.join('; ')}`);
    if (found.length > 0) unequal++;
    else equal++;
    triangles += triangleCount(theirs.mesh);
    pairs += theirs.pairs;
    if (triangleCount(theirs.mesh) >= 20_000) large.push({ name, theirs });
  }
  say(`${equal} equal, ${unequal} unequal of ${equal + unequal} meshes with ${triangles} triangles and ${pairs} pairs`);
  for (const [reason, count] of why) say(`${count} not compared: CGAL says it ${reason}`);
  if (unequal > 0 || equal === 0) process.exitCode = 1;
  times(large);
}

function times(large: readonly { readonly name: string; readonly theirs: CgalAnswer }[]): void {
  say('-- self-intersection with its boxes, CPU ms, least of three');
  const ratios: number[] = [];
  for (const { name, theirs } of large) {
    const ours = least(3, () => crossingPairs(theirs.mesh));
    ratios.push(ours / theirs.search);
    const size = `${name}, ${triangleCount(theirs.mesh)} triangles`;
    say(
      `${size.padEnd(48)} ours ${ours.toFixed(1).padStart(7)}, CGAL ${theirs.search.toFixed(1).padStart(7)}: ${(ours / theirs.search).toFixed(2)} x`,
    );
  }
  ratios.sort((a, b) => a - b);
  say(`ours / CGAL: median ${ratios[ratios.length >> 1]?.toFixed(2)}, worst ${ratios.at(-1)?.toFixed(2)}`);
}

const folder = mkdtempSync(join(tmpdir(), 'slipjoint-cgal-'));
try {
  compare(folder, process.argv[2]);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
